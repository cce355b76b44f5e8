//! Templates and fonts inside the program. In: a path. Out: the file's content. It must never read a disk.

use include_dir::{Dir, include_dir};

static TEMPLATES: Dir<'_> = include_dir!("$CARGO_MANIFEST_DIR/templates");

/// Content of a file under `templates/`.
pub(crate) fn bytes(path: &str) -> Option<&'static [u8]> {
    TEMPLATES.get_file(path).map(include_dir::File::contents)
}

/// Text of a file under `templates/`.
pub(crate) fn text(path: &str) -> Option<&'static str> {
    TEMPLATES.get_file(path).and_then(include_dir::File::contents_utf8)
}

/// The names of the drawings under `templates/art/`.
pub(crate) fn drawings() -> Vec<&'static str> {
    let folder = TEMPLATES.get_dir("art").into_iter().flat_map(Dir::files);
    folder.filter_map(|file| file.path().file_name()?.to_str()?.strip_suffix(".typ")).collect()
}

/// Path and text of all Typst files that documents import.
pub(crate) fn typst() -> impl Iterator<Item = (&'static str, &'static str)> {
    let folders = ["art", "art/parts", "parts"].into_iter().filter_map(|folder| TEMPLATES.get_dir(folder));
    folders.flat_map(Dir::files).filter_map(|file| Some((file.path().to_str()?, file.contents_utf8()?)))
}

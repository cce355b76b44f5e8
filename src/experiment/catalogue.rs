//! The catalogue that is built into the program. In: nothing. Out: the sources of its experiments.
//! It must not read the disk, except for a path that the user names.

use std::{path::Path, sync::Arc};

use include_dir::{Dir, include_dir};

use crate::report::{Place, Problem, Source, nearest};

static FILES: Dir<'_> = include_dir!("$CARGO_MANIFEST_DIR/experiments");

/// The built-in experiments in order of id.
pub fn sources() -> Vec<Arc<Source>> {
    let mut found: Vec<_> = FILES
        .files()
        .filter(|file| file.path().extension().is_some_and(|extension| extension == "yaml"))
        .filter_map(|file| Some(Source::new(file.path().to_str()?, file.contents_utf8()?)))
        .collect();
    found.sort_by(|a, b| a.name.cmp(&b.name));
    found
}

/// The ids of the built-in experiments.
pub fn ids() -> Vec<String> {
    sources().iter().map(|source| source.name.trim_end_matches(".yaml").to_owned()).collect()
}

/// The source of a catalogue id, or of a path to a YAML file.
///
/// # Errors
/// A problem where neither is found, or the file can't be read.
pub fn find(name: &str) -> Result<Arc<Source>, Problem> {
    if let Some(found) = sources().into_iter().find(|source| source.name.trim_end_matches(".yaml") == name) {
        return Ok(found);
    }
    let path = Path::new(name);
    let looks_like_path = name.contains(['/', '\\']) || name.ends_with(".yaml") || name.ends_with(".yml");
    if looks_like_path || path.is_file() {
        return read(path);
    }
    let ids = ids();
    let problem = Problem::error(format!("no experiment `{name}` in the catalogue"));
    Err(match nearest(name, ids.iter().map(String::as_str)) {
        Some(near) => {
            problem.hint(format!("did you mean `{near}`? `labquire list` shows all; a file needs its ending `.yaml`"))
        }
        None => problem.hint("`labquire list` shows the catalogue; a file of your own needs its ending `.yaml`"),
    })
}

/// The source of a file on the disk.
///
/// # Errors
/// A problem where the file can't be read or is not UTF-8.
pub fn read(path: &Path) -> Result<Arc<Source>, Problem> {
    let name = path.display().to_string();
    let bytes = std::fs::read(path)
        .map_err(|error| Problem::error(format!("the file can not be read: {error}")).at(Place::File(name.clone())))?;
    match String::from_utf8(bytes) {
        Ok(text) => Ok(Source::new(name, text.strip_prefix('\u{FEFF}').unwrap_or(&text))),
        Err(_) => {
            Err(Problem::error("the file is not UTF-8").at(Place::File(name)).hint("save it with the encoding UTF-8"))
        }
    }
}

//! What Typst sees of the world. In: the source of one document. Out: that source, templates, words and fonts.
//! No clock, no disk, no network: the same source gives the same pages everywhere.

use std::{collections::HashMap, sync::LazyLock};

use typst::{
    Feature, Library, LibraryExt, World,
    diag::{FileError, FileResult},
    foundations::{Bytes, Datetime, Duration},
    syntax::{FileId, RootedPath, Source, VirtualPath, VirtualRoot},
    text::{Font, FontBook},
    utils::LazyHash,
};

use super::{expression, files, fonts};
use crate::language::Language;

/// Header cells of rows need this feature of the library.
static LIBRARY: LazyLock<LazyHash<Library>> = LazyLock::new(|| {
    LazyHash::new(Library::builder().with_features([Feature::A11yExtras].into_iter().collect()).build())
});

static MAIN: LazyLock<Option<FileId>> = LazyLock::new(|| file_id("/main.typ"));

/// Typst sources of the words of each language, parsed once.
static WORDS: LazyLock<HashMap<FileId, Source>> = LazyLock::new(|| {
    Language::all()
        .iter()
        .filter_map(|language| {
            let id = file_id(&format!("/words/{}.typ", language.code))?;
            Some((id, Source::new(id, expression::words(language))))
        })
        .collect()
});

fn file_id(path: &str) -> Option<FileId> {
    VirtualPath::new(path).ok().map(|path| RootedPath::new(VirtualRoot::Project, path).intern())
}

/// One document with everything it may import.
pub(crate) struct DocumentWorld {
    main: Source,
}

impl DocumentWorld {
    /// The world of a source; `None` if Typst has no room for its name.
    pub(crate) fn new(source: String) -> Option<Self> {
        MAIN.map(|id| Self { main: Source::new(id, source) })
    }
}

impl World for DocumentWorld {
    fn library(&self) -> &LazyHash<Library> {
        &LIBRARY
    }

    fn book(&self) -> &LazyHash<FontBook> {
        fonts::book()
    }

    fn main(&self) -> FileId {
        self.main.id()
    }

    fn source(&self, id: FileId) -> FileResult<Source> {
        if id == self.main.id() {
            return Ok(self.main.clone());
        }
        if let Some(words) = WORDS.get(&id) {
            return Ok(words.clone());
        }
        let path = id.vpath().get_without_slash();
        files::text(path).map(|text| Source::new(id, text.to_owned())).ok_or_else(|| FileError::NotFound(path.into()))
    }

    fn file(&self, id: FileId) -> FileResult<Bytes> {
        self.source(id).map(|source| Bytes::from_string(source.text().to_owned()))
    }

    fn font(&self, index: usize) -> Option<Font> {
        fonts::font(index)
    }

    fn today(&self, _offset: Option<Duration>) -> Option<Datetime> {
        None
    }
}

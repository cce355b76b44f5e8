//! What Typst sees of the world. In: the source of one document. Out: that source, templates, words and fonts.
//! No clock, no disk, no network: the same source gives the same pages everywhere.

use std::{
    collections::{HashMap, hash_map::Entry},
    sync::LazyLock,
};

use typst::{
    Feature, Library, LibraryExt, World,
    diag::{FileError, FileResult},
    foundations::{Bytes, Datetime, Duration},
    syntax::{FileId, RootedPath, Source, VirtualPath, VirtualRoot},
    text::{Font, FontBook},
    utils::LazyHash,
};

use super::{Fonts, Script, expression, files};
use crate::language::Language;

/// Header cells of rows need this feature of the library.
static LIBRARY: LazyLock<LazyHash<Library>> = LazyLock::new(|| {
    LazyHash::new(Library::builder().with_features([Feature::A11yExtras].into_iter().collect()).build())
});

static MAIN: LazyLock<Option<FileId>> = LazyLock::new(|| file_id("/main.typ"));

/// The picture of a sheet's code.
static MOSAIC: LazyLock<Option<FileId>> = LazyLock::new(|| file_id("/mosaic.luma"));

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

/// The parts and drawings of the templates, parsed once.
static PARTS: LazyLock<HashMap<FileId, Source>> = LazyLock::new(|| {
    let parts = files::typst();
    parts
        .filter_map(|(path, text)| {
            let id = file_id(&format!("/{path}"))?;
            Some((id, Source::new(id, text.to_owned())))
        })
        .collect()
});

pub(super) fn file_id(path: &str) -> Option<FileId> {
    VirtualPath::new(path).ok().map(|path| RootedPath::new(VirtualRoot::Project, path).intern())
}

/// Parsed pieces, to be used again where the next document has the same.
#[derive(Default)]
pub(crate) struct Shelf {
    pieces: HashMap<(usize, String), Source>,
}

impl Shelf {
    fn piece(&mut self, place: usize, text: String) -> Option<Source> {
        match self.pieces.entry((place, text)) {
            Entry::Occupied(entry) => Some(entry.get().clone()),
            Entry::Vacant(entry) => {
                let source = Source::new(file_id(&format!("/pieces/{place}.typ"))?, entry.key().1.clone());
                Some(entry.insert(source).clone())
            }
        }
    }
}

/// One document with everything it may import.
pub(crate) struct DocumentWorld<'f> {
    main: Source,
    pieces: Vec<Source>,
    mosaic: Bytes,
    fonts: &'f Fonts,
}

impl<'f> DocumentWorld<'f> {
    /// The world of a script; `None` if Typst has no room for its names.
    pub(crate) fn new(script: Script, shelf: &mut Shelf, fonts: &'f Fonts) -> Option<Self> {
        let pieces = script.pieces.into_iter().enumerate().map(|(place, text)| shelf.piece(place, text));
        Some(Self {
            pieces: pieces.collect::<Option<_>>()?,
            main: Source::new((*MAIN)?, script.main),
            mosaic: Bytes::new(script.mosaic),
            fonts,
        })
    }
}

impl World for DocumentWorld<'_> {
    fn library(&self) -> &LazyHash<Library> {
        &LIBRARY
    }

    fn book(&self) -> &LazyHash<FontBook> {
        self.fonts.book()
    }

    fn main(&self) -> FileId {
        self.main.id()
    }

    fn source(&self, id: FileId) -> FileResult<Source> {
        if id == self.main.id() {
            return Ok(self.main.clone());
        }
        if let Some(families) = self.fonts.module().filter(|families| families.id() == id) {
            return Ok(families.clone());
        }
        if let Some(piece) = self.pieces.iter().find(|piece| piece.id() == id) {
            return Ok(piece.clone());
        }
        let part = PARTS.get(&id).or_else(|| WORDS.get(&id)).cloned();
        part.ok_or_else(|| FileError::NotFound(id.vpath().get_without_slash().into()))
    }

    fn file(&self, id: FileId) -> FileResult<Bytes> {
        if Some(id) == *MOSAIC {
            return Ok(self.mosaic.clone());
        }
        self.source(id).map(|source| Bytes::from_string(source.text().to_owned()))
    }

    fn font(&self, index: usize) -> Option<Font> {
        self.fonts.font(index)
    }

    fn today(&self, _offset: Option<Duration>) -> Option<Datetime> {
        None
    }
}

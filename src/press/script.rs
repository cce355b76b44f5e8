//! Typst source of documents. In: filled templates. Out: sources the press can set. It must not look into them.

use super::{Binding, stencil};

/// The source of one document: a main file and the pieces it includes.
///
/// A piece that is the same for two students is read, evaluated and set once: Typst recognises it as long as nothing
/// around it differs, so whatever differs must stay in pieces of its own.
#[derive(Debug, Clone, Hash)]
pub struct Script {
    pub(super) main: String,
    /// With marks where a stencil may be cut.
    pub(super) pieces: Vec<String>,
    /// What the main file finds as `/mosaic.luma`.
    pub(super) mosaic: Vec<u8>,
}

impl Script {
    /// The script with stencils for pieces, and their texts.
    pub(super) fn cut(&self) -> (Self, Vec<Vec<String>>) {
        let (pieces, texts) = self.pieces.iter().enumerate().map(|(place, piece)| stencil::cut(place, piece)).unzip();
        (self.with(pieces), texts)
    }

    /// The script without marks.
    pub(super) fn plain(&self) -> Self {
        self.with(self.pieces.iter().map(|piece| stencil::plain(piece)).collect())
    }

    /// The script with the count of pages as its only piece.
    pub(super) fn counting(&self, pages: usize) -> Self {
        self.with(vec![format!("#let count = {pages}\n")])
    }

    /// How long its source is, with all pieces.
    pub(super) fn bytes(&self) -> usize {
        self.main.len() + self.pieces.iter().map(String::len).sum::<usize>()
    }

    fn with(&self, pieces: Vec<String>) -> Self {
        Self { main: self.main.clone(), pieces, mosaic: self.mosaic.clone() }
    }
}

impl From<String> for Script {
    fn from(main: String) -> Self {
        Self { main, pieces: Vec::new(), mosaic: Vec::new() }
    }
}

/// The source of one student's sheet or key, or of another document whose pages bear their numbers.
#[derive(Debug, Clone)]
pub struct Leaf {
    /// What stands on the pages.
    pub(super) body: Script,
    /// What is the student's own, a page each: on the first page, in every foot, in every head, and the drawings.
    pub(super) own: Option<Script>,
    /// Heads and feet with the numbers of the pages, whose count is added when it is known.
    pub(super) margins: String,
}

/// What the press can set.
#[derive(Debug, Clone)]
pub enum Work {
    /// A document alone.
    Alone(Script),
    /// Leaves bound into one document.
    Volume(Vec<Leaf>, Binding),
}

impl From<String> for Work {
    fn from(main: String) -> Self {
        Self::Alone(main.into())
    }
}

impl From<Leaf> for Work {
    fn from(leaf: Leaf) -> Self {
        Self::Volume(vec![leaf], Binding::default())
    }
}

impl From<Vec<Leaf>> for Work {
    fn from(leaves: Vec<Leaf>) -> Self {
        Self::Volume(leaves, Binding::default())
    }
}

//! Typst source of documents. In: filled templates. Out: sources the press can set. It must not look into them.

use super::Binding;

/// The source of one document: a main file and the pieces it includes.
///
/// A piece that is the same for two students is read, evaluated and set once: Typst recognises it as long as nothing
/// around it differs, so whatever differs must stay in pieces of its own.
#[derive(Debug, Clone)]
pub struct Script {
    pub(super) main: String,
    pub(super) pieces: Vec<String>,
}

impl From<String> for Script {
    fn from(main: String) -> Self {
        Self { main, pieces: Vec::new() }
    }
}

/// The source of one student's sheet or key, or of another document whose pages bear their numbers.
#[derive(Debug, Clone)]
pub struct Leaf {
    /// What stands on the pages.
    pub(super) body: Script,
    /// Head and foot of the first page, of all other left ones and of all other right ones.
    pub(super) margins: String,
    /// The numbers of the pages; their count is added when it is known.
    pub(super) numbers: String,
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

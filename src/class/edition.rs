//! The three editions of a sheet. In: a word. Out: an edition. The same kind of readings stand on all three.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// An edition of a sheet: the same readings, another form of the tasks.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "lowercase")]
pub enum Edition {
    /// Formulas and units given, a first row worked, axes drawn.
    Support,
    /// The plain sheet.
    Core,
    /// Own choice of method, linearising, uncertainty.
    Extension,
}

impl Edition {
    /// All editions, easiest first.
    pub const ALL: [Self; 3] = [Self::Support, Self::Core, Self::Extension];

    /// The word that stands in files.
    pub fn word(self) -> &'static str {
        match self {
            Self::Support => "support",
            Self::Core => "core",
            Self::Extension => "extension",
        }
    }

    /// The key of its word in a language.
    pub fn word_key(self) -> &'static str {
        match self {
            Self::Support => "edition-support",
            Self::Core => "edition-core",
            Self::Extension => "edition-extension",
        }
    }

    /// The edition of a word, in any case.
    pub fn from_word(word: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|edition| edition.word().eq_ignore_ascii_case(word.trim()))
    }
}

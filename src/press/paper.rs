//! The paper of a printer. In: a word. Out: its name for Typst and what fits on it.

use serde::Serialize;

/// A paper size.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq, Serialize)]
pub enum Paper {
    /// ISO A4, 210 mm by 297 mm.
    #[default]
    #[serde(rename = "a4")]
    A4,
    /// US Letter, 216 mm by 279 mm.
    #[serde(rename = "us-letter")]
    Letter,
}

impl Paper {
    /// The paper of a word such as `letter`.
    pub fn from_word(word: &str) -> Option<Self> {
        match word {
            "a4" => Some(Self::A4),
            "letter" => Some(Self::Letter),
            _ => None,
        }
    }
}

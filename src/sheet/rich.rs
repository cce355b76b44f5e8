//! Running text with mathematics in it. In: pieces. Out: a list of pieces. It must not interpret their text.

use serde::Serialize;

pub use crate::formula::Math;

/// A piece of running text.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[serde(untagged)]
pub enum Run {
    /// Text, printed exactly as it is.
    Text(String),
    /// Mathematics with its reading.
    Math(Math),
}

/// Running text.
pub type Rich = Vec<Run>;

impl From<&str> for Run {
    fn from(text: &str) -> Self {
        Self::Text(text.to_owned())
    }
}

impl From<Math> for Run {
    fn from(math: Math) -> Self {
        Self::Math(math)
    }
}

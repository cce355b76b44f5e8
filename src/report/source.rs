//! A text file as it was read. In: name and text. Out: the same, shared by every problem that points into it.

use std::sync::Arc;

/// A named text that problems point into.
#[derive(Debug, PartialEq, Eq)]
pub struct Source {
    /// The file's name as the user gave it, or a catalogue id.
    pub name: String,
    /// The whole text, decoded.
    pub text: String,
}

impl Source {
    /// A shared source from a name and its text.
    pub fn new(name: impl Into<String>, text: impl Into<String>) -> Arc<Self> {
        Arc::new(Self { name: name.into(), text: text.into() })
    }

    /// Line and column (both from 1, the column in characters) of a byte offset.
    pub fn line_column(&self, offset: usize) -> (usize, usize) {
        let mut end = offset.min(self.text.len());
        while !self.text.is_char_boundary(end) {
            end -= 1;
        }
        let before = &self.text[..end];
        let start = before.rfind('\n').map_or(0, |at| at + 1);
        (before.matches('\n').count() + 1, before[start..].chars().count() + 1)
    }
}

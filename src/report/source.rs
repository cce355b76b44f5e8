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
    /// A shared source from a name and its text; a byte-order mark before the text is dropped.
    pub fn new(name: impl Into<String>, text: impl Into<String>) -> Arc<Self> {
        let text: String = text.into();
        let text = text.strip_prefix('\u{feff}').map(str::to_owned).unwrap_or(text);
        Arc::new(Self { name: name.into(), text })
    }

    /// The last place at or before a byte at which a character begins.
    pub(crate) fn boundary(&self, offset: usize) -> usize {
        let mut at = offset.min(self.text.len());
        while !self.text.is_char_boundary(at) {
            at -= 1;
        }
        at
    }

    /// Line and column (both from 1, the column in characters) of a byte offset.
    pub fn line_column(&self, offset: usize) -> (usize, usize) {
        let before = &self.text[..self.boundary(offset)];
        let start = before.rfind('\n').map_or(0, |at| at + 1);
        (before.matches('\n').count() + 1, before[start..].chars().count() + 1)
    }
}

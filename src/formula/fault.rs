//! What is wrong with a formula. In: a place inside its text and words. Out: a message the loader can place in the file.
//! It must know nothing of the file.

use std::ops::Range;

/// A fault of a formula, placed inside the formula's own text.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[error("{message}")]
pub struct FormulaError {
    /// What was found.
    pub message: String,
    /// What stands beside the underline.
    pub label: String,
    /// How to mend it.
    pub hint: Option<String>,
    /// Bytes of the formula's text.
    pub span: Range<usize>,
}

impl FormulaError {
    pub(crate) fn new(span: Range<usize>, message: impl Into<String>, label: impl Into<String>) -> Self {
        Self { message: message.into(), label: label.into(), hint: None, span }
    }

    pub(crate) fn hint(mut self, hint: impl Into<String>) -> Self {
        self.hint = Some(hint.into());
        self
    }
}

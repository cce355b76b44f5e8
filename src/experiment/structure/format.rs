//! Texts with a writing of their own, such as quantities. In: a text. Out: what is wrong with it, and where in it.
//! Such a check must look at the text alone.

use std::ops::Range;

/// How texts of one `format` of the schema are read.
#[derive(Debug, Clone, Copy)]
pub struct Format {
    /// The schema's word for it.
    pub name: &'static str,
    /// Refuses a text that is not written so.
    pub read: fn(&str) -> Result<(), FormatFault>,
}

/// What is wrong with a text.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct FormatFault {
    /// What was found.
    pub message: String,
    /// How to mend it.
    pub hint: Option<String>,
    /// The bytes of the text that are wrong.
    pub span: Range<usize>,
}

//! A line of mathematics as it is set and as it is spoken. In: pieces. Out: Typst maths and its reading.
//! It must hold no text of a user: letters and numbers reach it quoted.

use serde::Serialize;

/// Typst mathematics (what stands between two `$`) with the words a screen reader speaks.
#[derive(Debug, Clone, Default, PartialEq, Eq, Serialize)]
pub struct Math {
    /// Typst source of the mathematics.
    pub typst: String,
    /// The same in words.
    pub alt: String,
}

impl Math {
    /// A piece of mathematics from its source and its reading.
    pub fn new(typst: impl Into<String>, alt: impl Into<String>) -> Self {
        Self { typst: typst.into(), alt: alt.into() }
    }

    /// Upright text such as a number with its unit, set as it is.
    pub fn quoted(text: &str) -> Self {
        Self::new(quote(text), text)
    }

    /// `left sign right`, with a spoken sign.
    pub(crate) fn join(left: &Self, sign: &str, spoken: &str, right: &Self) -> Self {
        Self::new(format!("{} {sign} {}", left.typst, right.typst), format!("{} {spoken} {}", left.alt, right.alt))
    }
}

/// A Typst string literal of a text.
pub fn quote(text: &str) -> String {
    let mut out = String::with_capacity(text.len() + 2);
    out.push('"');
    for sign in text.chars() {
        if matches!(sign, '"' | '\\') {
            out.push('\\');
        }
        out.push(sign);
    }
    out.push('"');
    out
}

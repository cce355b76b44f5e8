//! Text with quantities in it. In: `Heat {heat} at {=m}`. Out: pieces of text, symbols and values.
//! It must not know what a quantity is.

use std::ops::Range;

/// A piece of a text.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Piece<'a> {
    /// Words as they stand.
    Words(&'a str),
    /// `{name}`: the symbol of a quantity.
    Symbol(&'a str, Range<usize>),
    /// `{=name}`: its value with unit.
    Value(&'a str, Range<usize>),
}

/// Splits a text into its pieces.
///
/// # Errors
/// The place of a brace that is not closed.
pub fn split(text: &str) -> Result<Vec<Piece<'_>>, Range<usize>> {
    let mut pieces = Vec::new();
    let mut at = 0;
    while let Some(open) = text[at..].find('{').map(|offset| at + offset) {
        if open > at {
            pieces.push(Piece::Words(&text[at..open]));
        }
        let close = text[open..].find('}').map(|offset| open + offset).ok_or(open..open + 1)?;
        let inner = &text[open + 1..close];
        let span = open..close + 1;
        pieces.push(match inner.strip_prefix('=') {
            Some(name) => Piece::Value(name.trim(), span),
            None => Piece::Symbol(inner.trim(), span),
        });
        at = close + 1;
    }
    if at < text.len() {
        pieces.push(Piece::Words(&text[at..]));
    }
    Ok(pieces)
}

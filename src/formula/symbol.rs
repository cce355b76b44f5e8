//! The symbol of a quantity. In: `T`, `ΔT`, `P_el`, `η_0`. Out: the same as mathematics and in words.
//! It must not know what the quantity is.

use super::{Math, math::quote};

/// A quantity's symbol: letters in italics, an upright index (ISO 80000-1, 7.1).
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Symbol {
    base: String,
    index: Option<String>,
}

impl Symbol {
    /// Reads a symbol: letters, then an index after `_` if there is one.
    ///
    /// # Errors
    /// A message where the text is no symbol.
    pub fn parse(text: &str) -> Result<Self, String> {
        let (base, index) = match text.split_once('_') {
            Some((base, index)) => (base, Some(index)),
            None => (text, None),
        };
        let letters = |part: &str| !part.is_empty() && part.chars().all(char::is_alphanumeric);
        if !letters(base) || !index.is_none_or(letters) {
            return Err(format!("`{text}` is not a symbol"));
        }
        Ok(Self { base: base.to_owned(), index: index.map(str::to_owned) })
    }

    /// The symbol as mathematics.
    pub fn math(&self) -> Math {
        let letters: Vec<String> = self.base.chars().map(String::from).collect();
        let mut typst = letters.join(" ");
        if let Some(index) = &self.index {
            typst = format!("{typst}_{}", quote(index));
        }
        Math::new(typst, self.plain())
    }

    /// The symbol in plain signs, such as `P el`, for speech and for columns of text.
    pub fn plain(&self) -> String {
        match &self.index {
            Some(index) => format!("{} {index}", self.base),
            None => self.base.clone(),
        }
    }
}

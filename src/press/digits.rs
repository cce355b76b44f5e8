//! The digits of a leaf's texts. In: what each text of its blocks says. Out: one digit after the other. It must not look at pages.

use super::stencil;

/// The texts of a leaf, whose digits are asked for in the order in which they stand on its pages.
pub(super) struct Digits<'a> {
    /// By block: what each text says.
    texts: &'a [Vec<String>],
    /// By block and text: where the next digit is looked for.
    places: Vec<Vec<usize>>,
}

impl<'a> Digits<'a> {
    /// The texts of a leaf's blocks.
    pub(super) fn of(texts: &'a [Vec<String>]) -> Self {
        Self { texts, places: texts.iter().map(|block| vec![0; block.len()]).collect() }
    }

    /// The next digit of a text; nothing if the leaf has no such text, or it has no digit. A text that lies on several lines is asked
    /// for in pieces, one that is repeated, such as the head of a table, begins again.
    pub(super) fn next(&mut self, (block, index): (usize, usize)) -> Option<u8> {
        let text = self.texts.get(block)?.get(index)?.as_bytes();
        let place = self.places.get_mut(block)?.get_mut(index)?;
        let digit_from = |from: usize| text[from..].iter().position(u8::is_ascii_digit).map(|at| from + at);
        let at = digit_from(*place).or_else(|| digit_from(0))?;
        *place = at + 1;
        Some(text[at] - b'0')
    }

    /// Whether the leaf has a text.
    pub(super) fn know(&self, (block, index): (usize, usize)) -> bool {
        self.texts.get(block).is_some_and(|texts| index < texts.len())
    }

    /// The words that some signs stand for.
    pub(super) fn spoken(&self, signs: &str) -> Option<&'a str> {
        let (block, index) = stencil::of_spoken(signs)?;
        self.texts.get(block)?.get(index).map(String::as_str)
    }
}

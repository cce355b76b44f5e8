//! Stamping digits into a set page. In: a text set with noughts, and what it says. Out: the text with its digits. It must not move
//! anything: a digit takes the room of the nought in its place.

use typst::{
    foundations::Content,
    math::EquationElem,
    model::FigureElem,
    text::TextItem,
    visualize::{Color, Paint},
};

use super::{
    digits::Digits,
    figures::{Figures, is_digit, slot},
};

/// The texts of a leaf, which are stamped in the order in which they stand on its pages.
pub(super) struct Stamps<'a> {
    figures: &'a Figures,
    digits: Digits<'a>,
}

/// A page that does not hold what its stencil promised.
pub(super) struct Unstampable;

impl<'a> Stamps<'a> {
    /// The texts of a leaf's blocks.
    pub(super) fn new(figures: &'a Figures, texts: &'a [Vec<String>]) -> Self {
        Self { figures, digits: Digits::of(texts) }
    }

    /// A text with its digits.
    ///
    /// # Errors
    /// If the colour means no text of the leaf, or a face has no such digits.
    pub(super) fn text(&mut self, item: &TextItem) -> Result<TextItem, Unstampable> {
        let Some(slot) = slot(item) else { return Ok(item.clone()) };
        if !self.digits.know(slot) {
            return Err(Unstampable);
        }
        let mut item = item.clone();
        item.fill = Paint::Solid(Color::BLACK);
        let mut signs = item.text.as_bytes().to_vec();
        let noughts: Vec<usize> = (0..item.glyphs.len()).filter(|&at| is_digit(&item, &item.glyphs[at])).collect();
        for at in noughts {
            let digit = self.digits.next(slot).ok_or(Unstampable)?;
            let glyph = &mut item.glyphs[at];
            glyph.id = self.figures.glyph(&item.font, digit).ok_or(Unstampable)?;
            signs[glyph.range().start] = b'0' + digit;
        }
        item.text = String::from_utf8(signs).map_err(|_| Unstampable)?.into();
        Ok(item)
    }

    /// Gives an element the words that are spoken in its place.
    pub(super) fn element(&self, element: &mut Content) {
        let words = |alt: Option<&str>| self.digits.spoken(alt?);
        if let Some(equation) = element.to_packed_mut::<EquationElem>() {
            if let Some(words) = words(equation.alt.as_option().as_ref().and_then(|alt| alt.as_deref())) {
                equation.alt.set(Some(words.into()));
            }
        } else if let Some(figure) = element.to_packed_mut::<FigureElem>()
            && let Some(words) = words(figure.alt.as_option().as_ref().and_then(|alt| alt.as_deref()))
        {
            figure.alt.set(Some(words.into()));
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::press::{Press, figures::texts};

    /// The texts of a page that Typst sets.
    fn set(source: &str) -> Vec<TextItem> {
        let source = format!("#import \"/parts/look.typ\": face\n#show: face\n{source}");
        let document = Press::new().document(source).expect("set");
        texts(&document.pages()[0].frame).into_iter().cloned().collect()
    }

    #[test]
    fn stamped_texts_are_those_that_typst_sets_and_come_again() {
        let figures = Press::new().figures().expect("digits of equal width");
        let all = vec![vec!["7".to_owned(), "19.5 K, 208".to_owned()]];
        let mut stamps = Stamps::new(figures, &all);
        let stencil = "#text(fill: rgb(0, 0, 1), \"00.0 K, \")\n\n#text(fill: rgb(0, 0, 1), \"000\")\n\n";
        let found: Vec<TextItem> = set(&stencil.repeat(2))
            .iter()
            .map(|item| stamps.text(item).unwrap_or_else(|_| panic!("{} is not stamped", item.text)))
            .collect();
        let wanted = set(&"19.5 K,\n\n208\n\n".repeat(2));
        let signs = |items: &[TextItem]| -> Vec<(String, Vec<u16>)> {
            items
                .iter()
                .map(|item| (item.text.trim_end().to_owned(), item.glyphs.iter().map(|one| one.id).collect()))
                .collect()
        };
        assert_eq!(signs(&found).len(), 4);
        for (found, wanted) in signs(&found).iter().zip(signs(&wanted)) {
            assert_eq!(found.0, wanted.0);
            assert!(found.1.starts_with(&wanted.1), "{}", found.0);
        }
        assert!(found.iter().all(|item| item.fill == Paint::Solid(Color::BLACK)));
    }

    #[test]
    fn what_no_text_is_known_for_is_refused() {
        let figures = Press::new().figures().expect("digits of equal width");
        let all = vec![vec!["no digit".to_owned()]];
        for source in [
            "#text(fill: rgb(0, 0, 9), \"00\")",
            "#text(fill: rgb(3, 0, 0), \"00\")",
            "#text(fill: rgb(0, 0, 0), \"00\")",
        ] {
            assert!(Stamps::new(figures, &all).text(&set(source)[0]).is_err(), "{source}");
        }
        assert!(Stamps::new(figures, &all).text(&set("12")[0]).is_ok_and(|item| item.text == "12"));
    }
}

//! The fonts of the program. In: nothing. Out: a pinned list. System fonts must never come in.

use std::sync::LazyLock;

use typst::{
    foundations::Bytes,
    text::{Font, FontBook},
    utils::LazyHash,
};

use super::files;

/// In this order; the first is the face of running text.
const NAMES: [&str; 3] = ["SourceSans3-Variable.ttf", "SourceSans3-Italic-Variable.ttf", "FiraMath-Regular.otf"];

static FONTS: LazyLock<Vec<Font>> = LazyLock::new(|| {
    NAMES
        .iter()
        .filter_map(|name| files::bytes(&format!("fonts/{name}")))
        .filter_map(|data| Font::new(Bytes::new(data), 0))
        .collect()
});

static BOOK: LazyLock<LazyHash<FontBook>> = LazyLock::new(|| LazyHash::new(FontBook::from_fonts(FONTS.iter())));

/// What the fonts offer.
pub(crate) fn book() -> &'static LazyHash<FontBook> {
    &BOOK
}

/// A font by its place in the book.
pub(crate) fn font(index: usize) -> Option<Font> {
    FONTS.get(index).cloned()
}

/// The first character of a text that the face of running text can't print, if there is one.
pub fn covers(text: &str) -> Option<char> {
    let face = FONTS.first()?;
    text.chars().find(|&sign| !face.info().coverage.contains(u32::from(sign)))
}

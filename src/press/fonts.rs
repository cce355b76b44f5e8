//! The fonts that pages are set in. In: font files. Out: a pinned list, those of the school before those of the program.
//! System fonts must never come in, and a sign that no font of the list has is never taken from elsewhere.

use std::{
    collections::BTreeSet,
    sync::{LazyLock, OnceLock},
};

use typst::{
    foundations::Bytes,
    layout::Abs,
    syntax::Source,
    text::{Font, FontBook, FontFlags, FontVariant, FontVariations},
    utils::LazyHash,
};

use super::{expression, figures::Figures, files, world};

/// In this order; the first is the face of running text.
const NAMES: [&str; 3] = ["SourceSans3-Variable.ttf", "SourceSans3-Italic-Variable.ttf", "FiraMath-Regular.otf"];
/// What tables and readings need, and every sheet has.
const NEEDED: &str = "0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz";

static SHIPPED: LazyLock<Fonts> = LazyLock::new(|| {
    let data = NAMES.iter().filter_map(|name| files::bytes(&format!("fonts/{name}")));
    Fonts::listed(data.filter_map(|data| Font::new(Bytes::new(data), 0)).collect(), 0)
});

/// A list of fonts.
#[derive(Debug)]
pub struct Fonts {
    fonts: Vec<Font>,
    book: LazyHash<FontBook>,
    /// How many of them are the school's own.
    own: usize,
    /// The Typst module that names their families.
    module: Option<Source>,
    figures: OnceLock<Option<Figures>>,
}

/// Why a school's fonts can't be used.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum FontsError {
    /// A file is no font.
    #[error("`{0}` is no font")]
    Unreadable(String),
    /// There is no font for text.
    #[error("there is no font for text")]
    NoText,
    /// There are several families for text, or for mathematics.
    #[error("there are fonts of several families for {purpose}: {}", .families.join(", "))]
    Several {
        /// What they are for.
        purpose: &'static str,
        /// Their names.
        families: Vec<String>,
    },
    /// The font for text lacks a letter or digit.
    #[error("`{family}` lacks the sign `{sign}`")]
    Lacks {
        /// The family.
        family: String,
        /// The sign.
        sign: char,
    },
}

impl Fonts {
    /// The fonts of the program.
    pub fn shipped() -> &'static Self {
        &SHIPPED
    }

    /// A school's own fonts before those of the program, which stand in for signs that these lack.
    ///
    /// One family for text, in as many weights and slopes as there are, and at most one with a table of mathematics.
    ///
    /// # Errors
    /// All that is wrong with them.
    pub fn own(files: impl IntoIterator<Item = (String, Vec<u8>)>) -> Result<Self, Vec<FontsError>> {
        let mut faults = Vec::new();
        let mut fonts = Vec::new();
        for (name, data) in files {
            let before = fonts.len();
            fonts.extend(Font::iter(Bytes::new(data)));
            if fonts.len() == before {
                faults.push(FontsError::Unreadable(name));
            }
        }
        let families = |maths: bool| -> Vec<String> {
            let of_kind = fonts.iter().filter(|font| is_maths(font) == maths);
            let names: BTreeSet<&str> = of_kind.map(|font| font.info().family.as_str()).collect();
            names.into_iter().map(str::to_owned).collect()
        };
        for (purpose, families) in [("text", families(false)), ("mathematics", families(true))] {
            if families.len() > 1 {
                faults.push(FontsError::Several { purpose, families });
            }
        }
        match fonts.iter().find(|font| !is_maths(font)) {
            None if faults.is_empty() => faults.push(FontsError::NoText),
            None => {}
            Some(font) => {
                if let Some(sign) = NEEDED.chars().find(|&sign| !has(font, sign)) {
                    faults.push(FontsError::Lacks { family: font.info().family.clone(), sign });
                }
            }
        }
        if !faults.is_empty() {
            return Err(faults);
        }
        let own = fonts.len();
        fonts.extend(SHIPPED.fonts.iter().cloned());
        Ok(Self::listed(fonts, own))
    }

    fn listed(fonts: Vec<Font>, own: usize) -> Self {
        let families = |maths: bool| {
            let mut names: Vec<&str> = Vec::new();
            for font in fonts.iter().filter(|font| is_maths(font) == maths) {
                if !names.contains(&font.info().family.as_str()) {
                    names.push(&font.info().family);
                }
            }
            names
        };
        let names = expression::font_families(&families(false), &families(true));
        let module = world::file_id("/fonts.typ").map(|id| Source::new(id, names));
        Self { book: LazyHash::new(FontBook::from_fonts(fonts.iter())), fonts, own, module, figures: OnceLock::new() }
    }

    /// The first character of a text that no face of running text can print, if there is one.
    pub fn covers(&self, text: &str) -> Option<char> {
        let faces = || self.fonts.iter().filter(|font| !is_maths(font));
        text.chars().find(|&sign| !faces().any(|font| has(font, sign)))
    }

    /// The first of the school's own families whose digits are not equally wide: columns of its numbers stand ragged.
    pub fn ragged_digits(&self) -> Option<&str> {
        let ragged = |font: &&Font| {
            let instance =
                (*font).clone().instantiate(FontVariant::default(), Abs::pt(10.0), &FontVariations::default());
            let face = instance.ttf();
            let width = |digit| face.glyph_index(digit).and_then(|glyph| face.glyph_hor_advance(glyph));
            let mut features = face.tables().gsub.into_iter().flat_map(|table| table.features);
            // A font may have digits of equal width as a feature, which the pages ask for.
            !features.any(|feature| feature.tag.to_bytes() == *b"tnum")
                && ('1'..='9').any(|digit| width(digit) != width('0'))
        };
        let own = self.fonts[..self.own].iter().filter(|font| !is_maths(font));
        own.clone().find(ragged).map(|font| font.info().family.as_str())
    }

    /// The school's own families, those for text first.
    pub fn families(&self) -> Vec<&str> {
        let own = &self.fonts[..self.own];
        let names: BTreeSet<(bool, &str)> =
            own.iter().map(|font| (is_maths(font), font.info().family.as_str())).collect();
        names.into_iter().map(|(_, name)| name).collect()
    }

    pub(crate) fn book(&self) -> &LazyHash<FontBook> {
        &self.book
    }

    /// A font by its place in the book.
    pub(crate) fn font(&self, index: usize) -> Option<Font> {
        self.fonts.get(index).cloned()
    }

    /// The digits of the faces, looked at once; nothing where they may not stand for each other.
    pub(super) fn figures(&self, look: impl FnOnce() -> Option<Figures>) -> Option<&Figures> {
        self.figures.get_or_init(look).as_ref()
    }

    /// The Typst module with the names of the families.
    pub(super) fn module(&self) -> Option<&Source> {
        self.module.as_ref()
    }
}

fn is_maths(font: &Font) -> bool {
    font.info().flags.contains(FontFlags::MATH)
}

fn has(font: &Font, sign: char) -> bool {
    font.info().coverage.contains(u32::from(sign))
}

/// The first character of a text that the shipped faces of running text can't print, if there is one.
pub fn covers(text: &str) -> Option<char> {
    Fonts::shipped().covers(text)
}

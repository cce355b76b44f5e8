//! The type case: a page with the ten digits of each face. In: that page as it was written. Out: what each font's digits are
//! called there, and how black is. It must not guess: what is not on the page is not known.

use super::{
    content::{Kind, Operation, operations, unquoted},
    store::Resources,
};

/// The digits of the fonts of a file.
pub(super) struct Case {
    /// The fonts with the codes of their digits from 0 to 9.
    fonts: Vec<(i32, [u16; 10])>,
    /// How text gets black.
    pub(super) black: Black,
}

/// A black for text.
pub(super) enum Black {
    /// By operations that need nothing else.
    Plain(Vec<u8>),
    /// By a colour space of the file, and the operations behind its choice.
    Space(i32, Vec<u8>),
}

impl Case {
    /// What a written page with one text of ten digits a face says.
    pub(super) fn of(content: &[u8], resources: &Resources) -> Option<Self> {
        let operations = operations(content)?;
        let (mut fonts, mut font, mut codes) = (Vec::new(), None, Vec::new());
        for operation in &operations {
            match operation.operator {
                b"Tf" => font = resources.get("Font", operation.name()?),
                b"Tj" | b"TJ" => codes.extend(shown(content, operation)?),
                b"ET" => {
                    fonts.push((font?, std::mem::take(&mut codes).try_into().ok()?));
                }
                _ => {}
            }
        }
        let start = operations.iter().position(|operation| operation.operator == b"BT")?;
        let [space, colour] = operations.get(start.checked_sub(2)?..start)? else { return None };
        let paint = content[colour.range.clone()].to_vec();
        let black = match (space.operator, colour.operator) {
            (b"cs", b"sc" | b"scn") => Black::Space(resources.get("ColorSpace", space.name()?)?, paint),
            (_, b"g" | b"rg" | b"k") => Black::Plain(paint),
            _ => return None,
        };
        Some(Self { fonts, black })
    }

    /// The place of a font whose digits are known.
    pub(super) fn font(&self, font: i32) -> Option<usize> {
        self.fonts.iter().position(|(known, _)| *known == font)
    }

    /// Whether a code shows a digit of the font at a place.
    pub(super) fn is_digit(&self, font: usize, code: u16) -> bool {
        self.fonts[font].1.contains(&code)
    }

    /// The code of a digit of the font at a place.
    pub(super) fn code(&self, font: usize, digit: u8) -> u16 {
        self.fonts[font].1[usize::from(digit)]
    }
}

/// The codes that an operation shows, two bytes each.
fn shown(content: &[u8], operation: &Operation<'_>) -> Option<Vec<u16>> {
    let texts = operation.operands.iter().filter(|(kind, _)| *kind == Kind::Text);
    let bytes: Vec<Vec<u8>> = texts.map(|(_, at)| unquoted(&content[at.clone()])).collect::<Option<_>>()?;
    codes(&bytes.concat())
}

/// The codes in a text, two bytes each.
pub(super) fn codes(bytes: &[u8]) -> Option<Vec<u16>> {
    bytes.chunks(2).map(|pair| Some(u16::from_be_bytes(pair.try_into().ok()?))).collect()
}

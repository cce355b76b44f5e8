//! The digits of the faces that pages are set in. In: a set specimen. Out: the glyph of each digit of each face, if all digits of a face
//! are equally wide wherever they stand. It must not guess: where digits differ nothing may be stamped.

use std::collections::HashMap;

use typst::{
    layout::{Abs, Em, Frame, FrameItem, FrameKind, Point, Size},
    text::{FontInstance, Glyph, TextItem},
    visualize::{Color, Paint, ProcessColor},
};
use typst_layout::{Page, PagedDocument};

use super::stencil;

/// Each digit between signs that stand beside digits, in every face: upright, bold, slanted, both, and mathematics. The colour
/// tells the face and the digit.
pub(super) const SPECIMEN: &str = r#"#import "/parts/look.typ": face
#show: face
#let faces = (strong, emph, it => it, it => strong(emph(it)), it => math.equation(it))
#for (place, face) in faces.enumerate() {
  for digit in range(10) {
    let signs = "0.0,0 0\u{202F}0\u{A0}0−0–0-0+0/0:0%0°0(0)0·0×0=0~0x0m0T0V0K0J0W0A0f0y0".replace("0", str(digit))
    block(face(text(fill: rgb(place, 0, digit), signs)))
  }
}
"#;

/// What digits of one face may differ by in width, em: the shipped slanted face has a nought that is a thousandth narrower.
const SLACK: f64 = 0.002;

/// The digits of all faces.
#[derive(Debug)]
pub(super) struct Figures {
    /// The glyphs of the digits from 0 to 9 of each face.
    glyphs: Vec<(FontInstance, [u16; 10])>,
}

/// The room that a glyph takes, whatever it shows: advances, then offsets.
#[derive(Clone)]
struct Room {
    font: FontInstance,
    measures: [Em; 4],
}

impl Room {
    fn of(item: &TextItem, glyph: &Glyph) -> Self {
        let measures = [glyph.x_advance, glyph.y_advance, glyph.x_offset, glyph.y_offset];
        Self { font: item.font.clone(), measures }
    }

    fn is_like(&self, other: &Self) -> bool {
        let mut pairs = self.measures.iter().zip(other.measures);
        self.font == other.font && pairs.all(|(own, other)| (*own - other).abs() <= Em::new(SLACK))
    }
}

impl Figures {
    /// The digits of a set specimen; nothing if some digits take more room than others.
    pub(super) fn of(specimen: &PagedDocument) -> Option<Self> {
        let mut rooms: HashMap<(usize, usize), Vec<Room>> = HashMap::new();
        let mut glyphs: Vec<(FontInstance, [Option<u16>; 10])> = Vec::new();
        for item in specimen.pages().iter().flat_map(|page| texts(&page.frame)) {
            let (face, digit) = slot(item)?;
            for glyph in &item.glyphs {
                rooms.entry((face, digit)).or_default().push(Room::of(item, glyph));
                if is_digit(item, glyph) {
                    let at = glyphs.iter().position(|(font, _)| *font == item.font).unwrap_or_else(|| {
                        glyphs.push((item.font.clone(), [None; 10]));
                        glyphs.len() - 1
                    });
                    let known = glyphs[at].1.get_mut(digit)?;
                    if known.is_some_and(|known| known != glyph.id) {
                        return None;
                    }
                    *known = Some(glyph.id);
                }
            }
        }
        let same = rooms.iter().all(|((face, _), line)| {
            let nought = rooms.get(&(*face, 0)).map_or(&[][..], Vec::as_slice);
            line.len() == nought.len() && line.iter().zip(nought).all(|(one, other)| one.is_like(other))
        });
        let all = |ids: [Option<u16>; 10]| {
            let mut found = [0; 10];
            ids.into_iter().zip(&mut found).try_for_each(|(id, found)| id.map(|id| *found = id))?;
            Some(found)
        };
        let faces = glyphs.into_iter().map(|(font, ids)| Some((font, all(ids)?))).collect::<Option<Vec<_>>>()?;
        same.then_some(Self { glyphs: faces })
    }

    /// A page with the ten digits of each face in which some pages have texts to stamp: a text a face.
    pub(super) fn case(&self, pages: &[Page]) -> Frame {
        let mut faces: Vec<FontInstance> = Vec::new();
        let mut case = Frame::new(pages.first().map_or(Size::zero(), |page| page.frame.size()), FrameKind::Hard);
        for item in pages.iter().flat_map(|page| texts(&page.frame)).filter(|item| slot(item).is_some()) {
            let digit = item.glyphs.iter().find(|glyph| is_digit(item, glyph));
            let Some(digit) = digit.filter(|_| !faces.contains(&item.font)) else { continue };
            let Some((_, glyphs)) = self.glyphs.iter().find(|(font, _)| *font == item.font) else { continue };
            faces.push(item.font.clone());
            let of = |(at, id): (u16, &u16)| Glyph { id: *id, range: at..at + 1, ..digit.clone() };
            let glyphs = (0..).zip(glyphs).map(of).collect();
            let text = TextItem { glyphs, text: "0123456789".into(), fill: Color::BLACK.into(), ..item.clone() };
            case.push(Point::with_y(Abs::pt(20.0) * faces.len() as f64), FrameItem::Text(text));
        }
        case
    }

    /// The glyph of a digit.
    pub(super) fn glyph(&self, font: &FontInstance, digit: u8) -> Option<u16> {
        let (_, glyphs) = self.glyphs.iter().find(|(known, _)| known == font)?;
        glyphs.get(usize::from(digit)).copied()
    }
}

/// Block and text that the colour of a text means.
pub(super) fn slot(item: &TextItem) -> Option<(usize, usize)> {
    let Paint::Solid(Color::Process(ProcessColor::Rgb(colour))) = &item.fill else { return None };
    Some(stencil::of_colour([colour.red, colour.green, colour.blue].map(|share| (share * 255.0).round() as u8)))
}

/// Whether a glyph shows one digit and nothing else.
pub(super) fn is_digit(item: &TextItem, glyph: &Glyph) -> bool {
    item.text.get(glyph.range()).is_some_and(|text| matches!(text.as_bytes(), [sign] if sign.is_ascii_digit()))
}

/// The texts of a frame, in order.
pub(super) fn texts(frame: &Frame) -> Vec<&TextItem> {
    let mut found = Vec::new();
    for (_, item) in frame.items() {
        match item {
            FrameItem::Text(text) => found.push(text),
            FrameItem::Group(group) => found.extend(texts(&group.frame)),
            _ => {}
        }
    }
    found
}

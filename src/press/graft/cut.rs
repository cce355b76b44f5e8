//! A plate's page in pieces. In: its content, set with a stencil. Out: what is the same for all leaves, and texts with room for digits.
//! Put together, with the stencil's own digits, they must show what the page shows.

use super::{
    case::{Black, Case, codes},
    content::{Kind, Operation, operations, unquoted},
    store::Resources,
};
use crate::press::{digits::Digits, stencil};

/// Stands before the names of a plate's resources, where they stand beside those of a leaf.
pub(super) const PREFIX: &str = "P";
/// What the black of stamped texts is called among the colour spaces.
pub(super) const BLACK: &str = "Black";

/// A piece of a page's content.
#[derive(Debug, PartialEq)]
pub(super) enum Piece {
    /// The same for all leaves: whole operations, or what stands around digits in a text.
    Same(Vec<u8>),
    /// A digit of a text, in the font at a place of the case.
    Digit { slot: (usize, usize), font: usize },
}

/// Cuts a plate's page. Marks of content are counted on from `first`.
pub(super) fn cut(content: &[u8], resources: &Resources, case: &Case, first: i32) -> Option<Vec<Piece>> {
    let operations = operations(content)?;
    let mut cutter = Cutter { content, done: 0, pieces: Vec::new() };
    let (mut slot, mut font) = (None, None);
    let mut rest = operations.as_slice();
    while let [operation, after @ ..] = rest {
        rest = after;
        if let Some((found, length)) = slot_at(operation, after) {
            cutter.copy_to(operation.range.start);
            cutter.end();
            cutter.put(&black(case));
            rest = &after[length - 1..];
            cutter.done = rest.first()?.range.start;
            slot = Some(found);
            continue;
        }
        match operation.operator {
            b"Tf" | b"Do" | b"gs" | b"cs" | b"CS" | b"scn" | b"SCN" | b"sh" => {
                if operation.operator == b"Tf" {
                    font = case.font(resources.get("Font", operation.name()?)?);
                }
                for (_, at) in operation.operands.iter().filter(|(kind, _)| *kind == Kind::Name) {
                    cutter.copy_to(at.start + 1);
                    cutter.put(PREFIX.as_bytes());
                }
            }
            b"BDC" => {
                let marked = |pair: &&[(Kind, std::ops::Range<usize>)]| content[pair[0].1.clone()] == *b"/MCID";
                if let Some([_, (_, at)]) = operation.operands.windows(2).find(marked) {
                    let number = operation.parsed::<i32>(at)? + first;
                    cutter.copy_to(at.start);
                    cutter.put(number.to_string().as_bytes());
                    cutter.done = at.end;
                }
            }
            b"Tj" | b"TJ" => {
                if let Some((slot, font)) = slot.zip(font) {
                    for (_, at) in operation.operands.iter().filter(|(kind, _)| *kind == Kind::Text) {
                        let codes = codes(&unquoted(&content[at.clone()])?)?;
                        if codes.iter().any(|code| case.is_digit(font, *code)) {
                            cutter.copy_to(at.start);
                            cutter.text(&codes, case, slot, font);
                            cutter.done = at.end;
                        }
                    }
                }
            }
            b"ET" if slot.take().is_some() => {
                cutter.copy_to(operation.range.end);
                cutter.end();
            }
            _ => {}
        }
    }
    cutter.copy_to(content.len());
    Some(cutter.pieces)
}

/// The content of a page with a leaf's digits; nothing if the leaf has no such text.
pub(super) fn stamped(pieces: &[Piece], case: &Case, digits: &mut Digits<'_>) -> Option<Vec<u8>> {
    let mut content = Vec::new();
    for piece in pieces {
        match piece {
            Piece::Same(bytes) => content.extend(bytes),
            Piece::Digit { slot, font } => {
                content.extend(format!("{:04x}", case.code(*font, digits.next(*slot)?)).bytes());
            }
        }
    }
    Some(content)
}

fn black(case: &Case) -> Vec<u8> {
    match &case.black {
        Black::Plain(paint) => [paint, &b"\n"[..]].concat(),
        Black::Space(_, paint) => [format!("/{BLACK} cs\n").as_bytes(), paint, b"\n"].concat(),
    }
}

/// The block and text whose colour is chosen here for a text, and the operations that choose it.
fn slot_at(operation: &Operation<'_>, after: &[Operation<'_>]) -> Option<((usize, usize), usize)> {
    let (colour, behind, length) = match (operation.operator, after) {
        (b"rg", [behind, ..]) => (operation, behind, 1),
        (b"cs", [colour, behind, ..]) if matches!(colour.operator, b"sc" | b"scn") => (colour, behind, 2),
        _ => return None,
    };
    let shares: [f32; 3] = colour.numbers()?.try_into().ok()?;
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a share of a colour is at most 1")]
    let bytes = shares.map(|share| (share * 255.0).round() as u8);
    (behind.operator == b"BT").then(|| (stencil::of_colour(bytes), length))
}

/// Content on its way into pieces.
struct Cutter<'a> {
    content: &'a [u8],
    /// How much of the content is in the pieces.
    done: usize,
    pieces: Vec<Piece>,
}

impl Cutter<'_> {
    fn put(&mut self, bytes: &[u8]) {
        match self.pieces.last_mut() {
            Some(Piece::Same(last)) => last.extend(bytes),
            _ => self.pieces.push(Piece::Same(bytes.to_vec())),
        }
    }

    fn copy_to(&mut self, end: usize) {
        let content = self.content;
        self.put(&content[self.done..end]);
        self.done = end;
    }

    /// Ends a piece, so that whole operations stand before and behind.
    fn end(&mut self) {
        self.pieces.push(Piece::Same(Vec::new()));
    }

    fn text(&mut self, codes: &[u16], case: &Case, slot: (usize, usize), font: usize) {
        self.put(b"<");
        for &code in codes {
            if case.is_digit(font, code) {
                self.pieces.push(Piece::Digit { slot, font });
            } else {
                self.put(format!("{code:04x}").as_bytes());
            }
        }
        self.put(b">");
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::press::graft::value::{Entries, Value};

    fn resources() -> Resources {
        let mut all = Entries::default();
        for (category, name, object) in [("ColorSpace", "c0", 8), ("ColorSpace", "c1", 9), ("Font", "f0", 7)] {
            all.set_in(category, name, Value::Ref(object));
        }
        Resources(all)
    }

    /// Digits have the codes from 0x10 on.
    fn case() -> Case {
        let codes: String = (0x10..0x1A).map(|code| format!("{code:04x}")).collect();
        let page = format!("q /c0 cs 0 scn BT /f0 12 Tf<{codes}>Tj ET Q");
        Case::of(page.as_bytes(), &resources()).expect("a type case")
    }

    #[test]
    fn a_text_gets_its_digits_and_its_black_and_all_else_stays() {
        let page =
            b"/P<</MCID 2>>BDC q /c1 cs 0.007843138 0 0.003921569 scn BT /f0 12 Tf[<00100055>-3(\x00\x10)]TJ ET Q EMC";
        let pieces = cut(page, &resources(), &case(), 3).expect("cut");
        let texts = [vec![], vec![], vec!["1".to_owned(), "4 K, 7".to_owned()]];
        let found = stamped(&pieces, &case(), &mut Digits::of(&texts)).expect("stamped");
        assert_eq!(
            String::from_utf8_lossy(&found),
            "/P<</MCID 5>>BDC q /Black cs\n0 scn\nBT /Pf0 12 Tf[<00140055>-3<0017>]TJ ET Q EMC"
        );
    }

    #[test]
    fn colours_of_lines_are_no_texts() {
        let page = b"q /c1 cs 0 0 0 scn 1 2 m 3 4 l f Q";
        let pieces = cut(page, &resources(), &case(), 0).expect("cut");
        assert_eq!(pieces, [Piece::Same(b"q /Pc1 cs 0 0 0 scn 1 2 m 3 4 l f Q".to_vec())]);
    }

    #[test]
    fn a_text_that_the_leaf_does_not_have_is_refused() {
        let page = b"BT /c1 cs 1 0 0 scn BT /f0 12 Tf<0010>Tj ET";
        let pieces = cut(page, &resources(), &case(), 0).expect("cut");
        assert!(stamped(&pieces, &case(), &mut Digits::of(&[])).is_none());
        assert!(cut(b"BT /f9 12 Tf ET", &resources(), &case(), 0).is_none(), "a font that the page does not name");
    }
}

//! Stencils: source whose digits are stamped in after it is set. In: source with marked texts. Out: the same with noughts for all
//! digits, and what the texts say. It must not know what the texts mean.
//!
//! Students' blocks differ in little but their digits, and all digits of a face are equally wide. With noughts for all the
//! blocks of most students are the same, so Typst sets them once; `super::stamp` puts each student's digits where they belong. A text is
//! found again on the page by its colour, which counts blocks and texts, and a spoken one by two signs that do the same.

use crate::formula::math::quote;

/// Stands before a literal that is printed, where Typst expects code.
const PRINTED: char = '\u{E000}';
/// Stands before a literal that is spoken.
const SPOKEN: char = '\u{E001}';
/// Stands before a printed literal that comes on the pages in the order of its block's other such.
const IN_ORDER: char = '\u{E002}';
/// Stands before the colour that a template gives to texts in order.
const INK: char = '\u{E003}';
const MARKS: [char; 4] = [PRINTED, SPOKEN, IN_ORDER, INK];
/// That colour where nothing is stamped.
const BLACK: &str = "black";
/// The signs that stand for a spoken text: the first counts blocks, the second texts.
const SIGNS: u32 = 0xF_0000;
/// Blocks of a leaf and texts of a block that can be told apart.
const MOST: (usize, usize) = (1 << 8, 1 << 16);

/// A printed text as Typst code; its digits may be stamped in.
pub(super) fn printed(text: &str) -> String {
    marked(PRINTED, text)
}

/// A spoken text as a Typst literal; it may be replaced after it is set.
pub(super) fn spoken(text: &str) -> String {
    marked(SPOKEN, text)
}

/// A printed text as a Typst literal, one of many that stand on the pages in the order of the source. The template sets them all in
/// the colour [`ink`]: what it makes of those with as many digits is alike, since it comes from the same place of its source.
pub(super) fn in_order(text: &str) -> String {
    marked(IN_ORDER, text)
}

/// The colour of the texts in order, as Typst code.
pub(super) fn ink() -> String {
    format!("{INK}{BLACK}")
}

fn marked(mark: char, text: &str) -> String {
    let literal = quote(text);
    if has_digits(text) { format!("{mark}{literal}") } else { literal }
}

/// Source of mathematics with its literals marked, and as tall as if each had all digits.
pub(super) fn maths(typst: &str) -> String {
    let mut code = String::with_capacity(typst.len() + 8);
    let mut rest = typst;
    while let Some((before, literal, after)) = next_literal(rest) {
        code.push_str(before);
        if has_digits(literal) {
            code.push_str(&format!("#even({PRINTED}{literal});"));
        } else {
            code.push_str(literal);
        }
        rest = after;
    }
    code + rest
}

/// Marked source as it would be without marks.
pub(super) fn plain(source: &str) -> String {
    source.replace(MARKS, "")
}

/// Marked source of the block at a place, with noughts for all digits, and its texts in order.
pub(super) fn cut(place: usize, source: &str) -> (String, Vec<String>) {
    if place >= MOST.0 {
        return (plain(source), Vec::new());
    }
    let mut code = String::with_capacity(source.len() + source.len() / 4);
    let mut texts: Vec<String> = Vec::new();
    let mut ordered = None;
    let new = |texts: &mut Vec<String>| {
        texts.push(String::new());
        texts.len() - 1
    };
    let mut rest = source;
    while let Some(at) = rest.find(MARKS) {
        let mark = rest[at..].chars().next().unwrap_or(PRINTED);
        code.push_str(&rest[..at]);
        rest = &rest[at + mark.len_utf8()..];
        if mark == INK && rest.starts_with(BLACK) {
            let index = *ordered.get_or_insert_with(|| new(&mut texts));
            code.push_str(&colour(place, index));
            rest = &rest[BLACK.len()..];
            continue;
        }
        let literal = next_literal(rest).filter(|(before, ..)| before.is_empty() && texts.len() < MOST.1);
        let Some((_, literal, after)) = literal else { continue };
        let index = if mark == IN_ORDER { *ordered.get_or_insert_with(|| new(&mut texts)) } else { new(&mut texts) };
        texts[index].push_str(&unquote(literal));
        match mark {
            SPOKEN => code.extend(['"', sign(place), sign(index), '"']),
            IN_ORDER => code.push_str(&blank(literal)),
            _ => code.push_str(&format!("text(fill: {}, {})", colour(place, index), blank(literal))),
        }
        rest = after;
    }
    (code + rest, texts)
}

/// The colour of a text of a block.
fn colour(place: usize, index: usize) -> String {
    format!("rgb({place}, {}, {})", index >> 8, index & 0xFF)
}

/// Block and text that a red, green and blue mean.
pub(super) fn of_colour([red, green, blue]: [u8; 3]) -> (usize, usize) {
    (usize::from(red), usize::from(green) << 8 | usize::from(blue))
}

/// Block and text that a spoken text stands for.
pub(super) fn of_spoken(text: &str) -> Option<(usize, usize)> {
    let mut signs = text.chars().map(|sign| (sign as u32).checked_sub(SIGNS).map(|count| count as usize));
    let found = (signs.next()??, signs.next()??);
    signs.next().is_none().then_some(found)
}

fn sign(count: usize) -> char {
    u32::try_from(count).ok().and_then(|count| char::from_u32(SIGNS + count)).unwrap_or(char::REPLACEMENT_CHARACTER)
}

/// A literal with noughts for all digits.
fn blank(literal: &str) -> String {
    literal.replace(|sign: char| sign.is_ascii_digit(), "0")
}

fn has_digits(text: &str) -> bool {
    text.contains(|sign: char| sign.is_ascii_digit())
}

/// What stands before the first literal of some source, the literal with its quotes, and the rest.
fn next_literal(source: &str) -> Option<(&str, &str, &str)> {
    let start = source.find('"')?;
    let mut escaped = false;
    for (at, sign) in source[start + 1..].char_indices() {
        match sign {
            _ if escaped => escaped = false,
            '\\' => escaped = true,
            '"' => {
                let end = start + 1 + at + 1;
                return Some((&source[..start], &source[start..end], &source[end..]));
            }
            _ => {}
        }
    }
    None
}

fn unquote(literal: &str) -> String {
    let inside = literal.strip_prefix('"').and_then(|text| text.strip_suffix('"')).unwrap_or(literal);
    let mut text = String::with_capacity(inside.len());
    let mut escaped = false;
    for sign in inside.chars() {
        if sign == '\\' && !escaped {
            escaped = true;
        } else {
            escaped = false;
            text.push(sign);
        }
    }
    text
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_stencil_has_noughts_for_digits_and_keeps_the_texts() {
        let source = format!("f({}, {})", printed("12.5 \"K\""), printed("none"));
        let (code, texts) = cut(3, &source);
        assert_eq!(code, "f(text(fill: rgb(3, 0, 0), \"00.0 \\\"K\\\"\"), \"none\")");
        assert_eq!(texts, ["12.5 \"K\""]);
        assert_eq!(plain(&source), "f(\"12.5 \\\"K\\\"\", \"none\")");
    }

    #[test]
    fn texts_in_order_are_one() {
        let source = format!("({}, {}, {}, {})", ink(), in_order("1.5"), printed("7"), in_order("20"));
        let (code, texts) = cut(3, &source);
        assert_eq!(code, "(rgb(3, 0, 0), \"0.0\", text(fill: rgb(3, 0, 1), \"0\"), \"00\")");
        assert_eq!(texts, ["1.520", "7"]);
        assert_eq!(plain(&source), "(black, \"1.5\", \"7\", \"20\")");
    }

    #[test]
    fn mathematics_and_its_reading_are_texts_of_their_own() {
        let source = format!("math.equation(alt: {}, $ {} $.body)", spoken("T is 20 K"), maths("T = \"20 K\" (\"x\")"));
        let (code, texts) = cut(0, &source);
        assert_eq!(
            code,
            "math.equation(alt: \"\u{F0000}\u{F0000}\", $ T = #even(text(fill: rgb(0, 0, 1), \"00 K\")); (\"x\") $.body)"
        );
        assert_eq!(texts, ["T is 20 K", "20 K"]);
        assert_eq!(of_spoken("\u{F0000}\u{F0001}"), Some((0, 1)));
        assert_eq!(of_spoken("T is 20 K"), None);
        assert_eq!(of_colour([0, 1, 2]), (0, 258));
    }

    #[test]
    fn unclosed_literals_and_stray_marks_change_nothing_else() {
        assert_eq!(cut(0, "a\u{E000}b \"12").0, "ab \"12");
        assert_eq!(maths("x \"12"), "x \"12");
    }
}

//! The content of a page, operation by operation. In: bytes as the PDF writer makes them. Out: where its operations and their
//! operands are, which the library that reads PDFs does not tell. It must not know pages or fonts.

use std::{ops::Range, str::FromStr};

/// What an operand or a part of one is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Kind {
    Number,
    Name,
    Text,
    /// A bracket of a list or of a dictionary.
    Bracket,
}

/// One operation with its operands, lists and dictionaries laid flat.
#[derive(Debug, Clone)]
pub(super) struct Operation<'a> {
    content: &'a [u8],
    pub(super) operator: &'a [u8],
    pub(super) operands: Vec<(Kind, Range<usize>)>,
    /// From the first operand to the end of the operator.
    pub(super) range: Range<usize>,
}

impl<'a> Operation<'a> {
    /// The first name among the operands, without its stroke.
    pub(super) fn name(&self) -> Option<&'a [u8]> {
        let (_, at) = self.operands.iter().find(|(kind, _)| *kind == Kind::Name)?;
        self.content.get(at.start + 1..at.end)
    }

    /// The operands if all of them are numbers.
    pub(super) fn numbers(&self) -> Option<Vec<f32>> {
        let number = |(kind, at): &(Kind, Range<usize>)| (*kind == Kind::Number).then(|| self.parsed(at))?;
        self.operands.iter().map(number).collect()
    }

    /// The number at a place.
    pub(super) fn parsed<T: FromStr>(&self, at: &Range<usize>) -> Option<T> {
        std::str::from_utf8(self.content.get(at.clone())?).ok()?.parse().ok()
    }
}

/// The operations of a page; nothing if the content is not well formed.
pub(super) fn operations(content: &[u8]) -> Option<Vec<Operation<'_>>> {
    let mut found = Vec::new();
    let mut operands: Vec<(Kind, Range<usize>)> = Vec::new();
    let mut at = 0;
    while let Some(&sign) = content.get(at) {
        let (kind, end) = match sign {
            b' ' | b'\n' | b'\r' | b'\t' => {
                at += 1;
                continue;
            }
            b'[' | b']' => (Kind::Bracket, at + 1),
            b'<' | b'>' if content.get(at + 1) == Some(&sign) => (Kind::Bracket, at + 2),
            b'<' => (Kind::Text, at + content[at..].iter().position(|&sign| sign == b'>')? + 1),
            b'(' => (Kind::Text, end_of_literal(content, at)?),
            b'/' => (Kind::Name, end_of_word(content, at + 1)),
            b'+' | b'-' | b'.' | b'0'..=b'9' => (Kind::Number, end_of_word(content, at)),
            b'A'..=b'Z' | b'a'..=b'z' | b'\'' | b'"' => {
                let end = end_of_word(content, at);
                let start = operands.first().map_or(at, |(_, first)| first.start);
                let (operator, operands) = (&content[at..end], std::mem::take(&mut operands));
                found.push(Operation { content, operator, operands, range: start..end });
                at = end;
                continue;
            }
            _ => return None,
        };
        operands.push((kind, at..end));
        at = end;
    }
    operands.is_empty().then_some(found)
}

/// The bytes that a text stands for.
pub(super) fn unquoted(text: &[u8]) -> Option<Vec<u8>> {
    if let Some(digits) = text.strip_prefix(b"<").and_then(|text| text.strip_suffix(b">")) {
        let half = |digit: &u8| char::from(*digit).to_digit(16).and_then(|digit| u8::try_from(digit).ok());
        return digits.chunks(2).map(|pair| Some(half(pair.first()?)? << 4 | half(pair.get(1)?)?)).collect();
    }
    let inside = text.strip_prefix(b"(")?.strip_suffix(b")")?;
    let mut bytes = Vec::with_capacity(inside.len());
    let mut rest = inside;
    while let [sign, after @ ..] = rest {
        rest = after;
        if *sign != b'\\' {
            bytes.push(*sign);
            continue;
        }
        let octal = rest.iter().take(3).take_while(|sign| (b'0'..=b'7').contains(*sign)).count();
        if octal > 0 {
            let code = rest[..octal].iter().fold(0_u32, |code, sign| code << 3 | u32::from(sign - b'0'));
            bytes.push(u8::try_from(code).ok()?);
            rest = &rest[octal..];
            continue;
        }
        let (sign, after) = rest.split_first()?;
        rest = after;
        bytes.push(match sign {
            b'n' => b'\n',
            b'r' => b'\r',
            b't' => b'\t',
            b'b' => 8,
            b'f' => 12,
            other => *other,
        });
    }
    Some(bytes)
}

fn end_of_word(content: &[u8], from: usize) -> usize {
    let ends = |sign: &u8| sign.is_ascii_whitespace() || b"()<>[]{}/%".contains(sign);
    content[from..].iter().position(ends).map_or(content.len(), |length| from + length)
}

fn end_of_literal(content: &[u8], from: usize) -> Option<usize> {
    let (mut depth, mut at) = (0, from);
    loop {
        match content.get(at)? {
            b'\\' => at += 1,
            b'(' => depth += 1,
            b')' if depth == 1 => return Some(at + 1),
            b')' => depth -= 1,
            _ => {}
        }
        at += 1;
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn operations_are_found_with_their_operands() {
        let content = b"q 1 0 0 -1 0 842 cm/P<</MCID 3>>BDC BT/f0 12 Tf[(a\\)\\(b)-3.5<00fF>]TJ ET Q";
        let found = operations(content).expect("well formed");
        let names: Vec<&[u8]> = found.iter().map(|one| one.operator).collect();
        assert_eq!(names, [&b"q"[..], b"cm", b"BDC", b"BT", b"Tf", b"TJ", b"ET", b"Q"]);
        assert_eq!(found[1].numbers(), Some(vec![1.0, 0.0, 0.0, -1.0, 0.0, 842.0]));
        assert_eq!(found[2].name(), Some(&b"P"[..]));
        assert_eq!(&content[found[4].range.clone()], b"/f0 12 Tf");
        let texts = found[5].operands.iter().filter(|(kind, _)| *kind == Kind::Text);
        let texts: Vec<Option<Vec<u8>>> = texts.map(|(_, at)| unquoted(&content[at.clone()])).collect();
        assert_eq!(texts, [Some(b"a)(b".to_vec()), Some(vec![0, 255])]);
    }

    #[test]
    fn escapes_are_bytes_and_unclosed_texts_are_refused() {
        assert_eq!(unquoted(b"(\\101\\0B\\n\\\\)"), Some(b"A\0B\n\\".to_vec()));
        assert!(operations(b"(open").is_none());
        assert!(operations(b"<00").is_none());
        assert!(operations(b"1 2").is_none(), "operands without an operator");
    }
}

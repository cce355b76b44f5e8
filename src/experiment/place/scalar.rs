//! From a text value to the bytes that it was written with. In: a YAML scalar as written and as read.
//! Out: for each byte of the value its bytes in the writing. It must never guess: where the two do not match, it says so.

use std::ops::Range;

use saphyr_parser::ScalarStyle;

/// For each byte of `value`, the bytes of `written` that its character stands for; none where the two do not match.
///
/// Characters that are not white space are exact in every style, escapes included; white space that YAML folds is
/// accurate to the line.
pub(super) fn spellings(written: &str, value: &str, style: ScalarStyle) -> Option<Vec<Range<usize>>> {
    let quoted = matches!(style, ScalarStyle::SingleQuoted | ScalarStyle::DoubleQuoted);
    let (mut at, end) = if quoted { (1, written.len().checked_sub(1)?) } else { (0, written.len()) };
    let mut places = Vec::with_capacity(value.len());
    for wanted in value.chars() {
        let place = if is_white(wanted) {
            match sign(written, at, end, style) {
                Some((found, length)) if found == Some(wanted) => at..at + length,
                _ => at..at,
            }
        } else {
            loop {
                let (found, length) = sign(written, at, end, style)?;
                match found {
                    Some(found) if found == wanted => break at..at + length,
                    Some(found) if !is_white(found) => return None,
                    _ => at += length,
                }
            }
        };
        at = place.end;
        places.extend(std::iter::repeat_n(place, wanted.len_utf8()));
    }
    Some(places)
}

/// The next character and the bytes it takes; no character for a line end that a backslash takes away.
fn sign(written: &str, at: usize, end: usize, style: ScalarStyle) -> Option<(Option<char>, usize)> {
    let rest = written.get(at..end)?;
    let first = rest.chars().next()?;
    match style {
        ScalarStyle::SingleQuoted if first == '\'' => Some((Some('\''), 2)),
        ScalarStyle::DoubleQuoted if first == '\\' => escape(rest),
        _ => Some((Some(first), first.len_utf8())),
    }
}

/// A backslash and what follows it (YAML 1.2.2, section 5.7).
fn escape(rest: &str) -> Option<(Option<char>, usize)> {
    let letter = rest[1..].chars().next()?;
    let short = |sign| Some((Some(sign), 1 + letter.len_utf8()));
    let code = |digits: usize| {
        let number = u32::from_str_radix(rest.get(2..2 + digits)?, 16).ok()?;
        Some((Some(char::from_u32(number)?), 2 + digits))
    };
    match letter {
        '0' => short('\0'),
        'a' => short('\u{7}'),
        'b' => short('\u{8}'),
        't' => short('\t'),
        'n' => short('\n'),
        'v' => short('\u{b}'),
        'f' => short('\u{c}'),
        'r' => short('\r'),
        'e' => short('\u{1b}'),
        'N' => short('\u{85}'),
        '_' => short('\u{a0}'),
        'L' => short('\u{2028}'),
        'P' => short('\u{2029}'),
        'x' => code(2),
        'u' => code(4),
        'U' => code(8),
        '\n' | '\r' => Some((None, 2)),
        other => short(other),
    }
}

fn is_white(sign: char) -> bool {
    matches!(sign, ' ' | '\t' | '\n' | '\r')
}

//! What authors write behind a number in place of a unit. In: the text. Out: what is wrong, where, and the fix.
//! It must not read quantities itself.

use std::ops::Range;

use super::QuantityError;

/// An uncertainty, a range or a fraction that stands behind the number of `text`, from the byte `end` on.
pub(super) fn behind(text: &str, end: usize) -> Option<QuantityError> {
    let (number, rest) = (text[..end].trim(), &text[end..]);
    let behind = rest.trim_start();
    let start = text.len() - text.trim_start().len();
    let digits = |part: &str| part.bytes().take_while(u8::is_ascii_digit).count();
    let span = end + rest.len() - behind.len()..text.trim_end().len();
    if behind.starts_with('±') || behind.starts_with("+/-") {
        let hint = format!("write the value alone, `{number}` with its unit: errors belong to instruments");
        return Some(fault("a quantity with its uncertainty", hint, span));
    }
    let other = ["–", "-", "..", "to ", "bis "].iter().find_map(|sign| behind.strip_prefix(sign));
    if other.is_some_and(|other| digits(other.trim_start_matches(['.', ' '])) > 0) {
        let hint = "write one value; only `drawn` and the schedule have ranges, by `from` and `to`".to_owned();
        return Some(fault("a range in place of a value", hint, start..text.trim_end().len()));
    }
    let fraction = behind.strip_prefix('/').filter(|other| digits(other.trim_start()) > 0);
    fraction.map(|_| {
        let hint = "write a decimal number in its place, such as `0.5` for 1/2".to_owned();
        fault("a fraction in place of a number", hint, start..span.end)
    })
}

fn fault(message: &str, hint: String, span: Range<usize>) -> QuantityError {
    QuantityError { message: message.to_owned(), hint: Some(hint), span }
}

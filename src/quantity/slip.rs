//! What authors write in place of a quantity. In: a text that is none. Out: what is wrong with it, where, and the fix.
//! It must not read quantities itself.

use std::ops::Range;

use super::{QuantityError, Unit};

/// Why the text begins with no number.
pub(super) fn no_number(text: &str) -> QuantityError {
    let digits = text.find(|sign: char| sign.is_ascii_digit());
    let hint = match digits {
        Some(at) if text[..at].chars().all(|sign| !sign.is_ascii_digit()) && at > 0 => {
            format!("write the number first and the unit behind it: `{}`", text[at..].trim())
        }
        Some(_) => "write one number with a decimal point, then a unit, such as `4.18 kJ/(kg K)`".to_owned(),
        None => "write a number and a unit, such as `250 g`".to_owned(),
    };
    fault(format!("`{}` is no quantity", text.trim()), hint, 0..text.len())
}

/// What stands behind the number of `text`, from the byte `end` on, where it belongs to the number and not to a unit.
pub(super) fn behind(text: &str, end: usize) -> Option<QuantityError> {
    let (number, rest) = (text[..end].trim(), &text[end..]);
    let behind = rest.trim_start();
    let start = text.len() - text.trim_start().len();
    let digits = |part: &str| part.bytes().take_while(u8::is_ascii_digit).count();
    let span = end + rest.len() - behind.len()..text.trim_end().len();
    if let Some(decimals) = behind.strip_prefix(',').filter(|decimals| digits(decimals) > 0) {
        let span = start..span.start + 1 + digits(decimals);
        let found = &text[span.clone()];
        let hint = match digits(decimals) {
            3 => format!("write a decimal point, `{number}.{decimals}`, or no sign, `{number}{decimals}`"),
            _ => format!("write a decimal point: `{number}.{decimals}`"),
        };
        return Some(fault(format!("a decimal comma in `{found}`"), hint, span));
    }
    // `1` may begin a unit, as in `5 1/K`.
    if digits(behind) > 0 && Unit::parse(behind).is_err() {
        let hint = match digits(behind) {
            3 => format!("write it without a space: `{number}{behind}`"),
            _ => "write one number and a unit, such as `250 g`".to_owned(),
        };
        return Some(fault(format!("two numbers in `{}`", text.trim()), hint, start..span.start + digits(behind)));
    }
    if behind.starts_with('±') || behind.starts_with("+/-") {
        let hint = format!("write the value alone, `{number}` with its unit: errors belong to instruments");
        return Some(fault("a quantity with its uncertainty".to_owned(), hint, span));
    }
    let other = ["–", "-", "..", "to ", "bis "].iter().find_map(|sign| behind.strip_prefix(sign));
    if other.is_some_and(|other| digits(other.trim_start_matches(['.', ' '])) > 0) {
        let hint = "write one value; only `drawn` and the schedule have ranges, by `from` and `to`".to_owned();
        return Some(fault("a range in place of a value".to_owned(), hint, start..text.trim_end().len()));
    }
    let fraction = behind.strip_prefix('/').filter(|other| digits(other.trim_start()) > 0);
    fraction.map(|_| {
        let hint = "write a decimal number in its place, such as `0.5` for 1/2".to_owned();
        fault("a fraction in place of a number".to_owned(), hint, start..span.end)
    })
}

fn fault(message: String, hint: String, span: Range<usize>) -> QuantityError {
    QuantityError { message, hint: Some(hint), span }
}

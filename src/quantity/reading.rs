//! Numbers as people write them. In: text with point or comma, spaces, powers of ten. Out: value, figures, what is left.
//! It must never guess: a text that is no number is an error, and a second reading is told.

use super::{Notation, rounding, separators, unit_text::digit};

/// A number somebody wrote, with what stands behind it.
#[derive(Debug, Clone, PartialEq)]
pub struct Written {
    /// Its value.
    pub value: f64,
    /// Its significant figures; those of what stands above the stroke in `3/4`.
    pub figures: usize,
    /// The text behind it, trimmed: a unit, or nothing.
    pub rest: String,
    /// Its value where the language's sign of groups was meant as the decimal sign, as in `1.234` in German.
    pub other: Option<f64>,
}

/// Why a text is no number.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum NumberError {
    /// No digit at the start.
    #[error("`{0}` does not start with a number")]
    NoDigits(String),
    /// Several decimal signs, or groups of unlike length.
    #[error("the number in `{0}` can be read in several ways")]
    Ambiguous(String),
    /// A division by zero.
    #[error("`{0}` divides by zero")]
    Zero(String),
    /// A number beyond all doubles.
    #[error("the number in `{0}` is too large")]
    Large(String),
}

pub(super) const SPACES: [char; 4] = [' ', '\u{A0}', '\u{2009}', '\u{202F}'];

/// Hyphen, minus sign, and the dash that word processors put in their place.
pub(super) const MINUS: [char; 3] = ['-', '\u{2212}', '–'];

impl Notation {
    /// Reads a number such as `1,5`, `1.5`, `12 345,6`, `1.2e3`, `1,2 x 10³`, `1.2·10^3`, `10^3`, `−4`, `3/4`.
    ///
    /// A point and a comma are both decimal signs. Where both stand in a number, the last is the decimal sign and the
    /// other marks groups of three; one that stands several times marks groups. The language decides only where a
    /// single sign stands behind one to three digits, not starting with zero, and before exactly three, as in `1.234`:
    /// if that is the language's decimal sign it is one, and else it marks a group and `other` holds the second reading.
    ///
    /// # Errors
    /// A [`NumberError`] where the text does not start with a number, the number has several readings, or is too large.
    pub fn parse_number(&self, text: &str) -> Result<Written, NumberError> {
        let whole = text.trim();
        let (sign, body) = match whole.strip_prefix(MINUS) {
            Some(body) => (-1.0, body),
            None => (1.0, whole.strip_prefix('+').unwrap_or(whole)),
        };
        let (mantissa, rest) = self.mantissa(body.trim_start_matches(SPACES), whole)?;
        let (scale, rest) = scale(&mantissa.plain, rest, whole, self)?;
        let value = |plain: &str| -> Result<f64, NumberError> {
            let unsigned = match scale {
                Scale::Power(power) => format!("{plain}e{power}").parse().unwrap_or(f64::NAN),
                Scale::Alone(power) => format!("1e{power}").parse().unwrap_or(f64::NAN),
                Scale::Divisor(divisor) => plain.parse().unwrap_or(f64::NAN) / divisor,
            };
            if unsigned.is_finite() { Ok(sign * unsigned) } else { Err(NumberError::Large(whole.to_owned())) }
        };
        let figures = match scale {
            Scale::Alone(_) => 1,
            Scale::Power(_) | Scale::Divisor(_) => rounding::figures(&mantissa.plain),
        };
        let other = mantissa.other.as_deref().map(value).transpose()?;
        Ok(Written { value: value(&mantissa.plain)?, figures, rest: rest.trim().to_owned(), other })
    }

    fn mantissa<'a>(&self, body: &'a str, whole: &str) -> Result<(separators::Mantissa, &'a str), NumberError> {
        let (found, rest) = body.split_at(separators::end(body));
        if found.is_empty() {
            return Err(NumberError::NoDigits(whole.to_owned()));
        }
        let mantissa = separators::read(found, &self.decimal);
        mantissa.map(|mantissa| (mantissa, rest)).ok_or_else(|| NumberError::Ambiguous(whole.to_owned()))
    }
}

/// What a mantissa is scaled by.
#[derive(Clone, Copy)]
enum Scale {
    /// A power of ten.
    Power(i32),
    /// A power of ten without mantissa, as in `10³`.
    Alone(i32),
    /// What stands below a stroke.
    Divisor(f64),
}

fn scale<'a>(mantissa: &str, rest: &'a str, whole: &str, notation: &Notation) -> Result<(Scale, &'a str), NumberError> {
    if let Some((power, behind)) = power_of_ten(rest) {
        return Ok((Scale::Power(power), behind));
    }
    if let Some((power, behind)) = (mantissa == "10").then(|| exponent(rest)).flatten() {
        return Ok((Scale::Alone(power), behind));
    }
    let below = rest.trim_start_matches(SPACES).strip_prefix('/').map(|below| below.trim_start_matches(SPACES));
    let Some(below) = below.filter(|below| below.starts_with(|sign: char| sign.is_ascii_digit())) else {
        return Ok((Scale::Power(0), rest));
    };
    let (divisor, behind) = notation.mantissa(below, whole)?;
    match divisor.plain.parse() {
        Ok(divisor) if divisor != 0.0 => Ok((Scale::Divisor(divisor), behind)),
        _ => Err(NumberError::Zero(whole.to_owned())),
    }
}

/// `e3`, `·10^3`, `x 10³`, `* 10^-3`, `× 10⁻³`: the power and what stands behind it.
pub(super) fn power_of_ten(rest: &str) -> Option<(i32, &str)> {
    if let Some(power) = rest.strip_prefix(['e', 'E']) {
        return integer(power);
    }
    let factor = rest.trim_start_matches(SPACES).strip_prefix(['·', '⋅', '*', 'x', 'X', '×'])?;
    exponent(factor.trim_start_matches(SPACES).strip_prefix("10")?)
}

/// What stands behind the base of a power: `^3`, `^(-3)`, `**3`, `³`. Plain digits are no exponent: `10` and `100` are not.
fn exponent(text: &str) -> Option<(i32, &str)> {
    let lowered = text.strip_prefix("**").or_else(|| text.strip_prefix('^'));
    let raised =
        || text.starts_with(|sign| matches!(sign, '⁻' | '⁺') || digit(sign).is_some_and(|digit| digit != sign));
    let Some(lowered) = lowered else { return raised().then(|| integer(text)).flatten() };
    match lowered.strip_prefix('(') {
        Some(inside) => integer(inside).and_then(|(power, rest)| Some((power, rest.strip_prefix(')')?))),
        None => integer(lowered),
    }
}

/// A whole number in plain or raised digits.
fn integer(text: &str) -> Option<(i32, &str)> {
    let (mut digits, mut end) = (String::new(), 0);
    for (at, sign) in text.char_indices() {
        let plain = match sign {
            '⁻' if digits.is_empty() => '-',
            sign if MINUS.contains(&sign) && digits.is_empty() => '-',
            '+' | '⁺' if digits.is_empty() => '+',
            _ => match digit(sign) {
                Some(digit) => digit,
                None => break,
            },
        };
        digits.push(plain);
        end = at + sign.len_utf8();
    }
    Some((digits.parse().ok()?, &text[end..]))
}

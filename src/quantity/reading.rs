//! Numbers as people write them. In: text with point or comma, spaces, powers of ten. Out: value, figures, what is left.
//! It must never guess: a text that is no number is an error.

use super::Notation;

/// A number somebody wrote, with what stands behind it.
#[derive(Debug, Clone, PartialEq)]
pub struct Written {
    /// Its value.
    pub value: f64,
    /// Its significant figures.
    pub figures: usize,
    /// The text behind it, trimmed: a unit, or nothing.
    pub rest: String,
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
}

const SPACES: [char; 4] = [' ', '\u{A0}', '\u{2009}', '\u{202F}'];

impl Notation {
    /// Reads a number such as `1,5`, `1.5`, `12 345,6`, `1.2e3`, `1,2 x 10³`, `1.2·10^3`, `−4`, `3/4`.
    ///
    /// A point and a comma are both decimal signs. Where both stand in a number, the last is the decimal sign and the
    /// other marks groups. A single sign before exactly three digits, such as `1.234`, is the decimal sign too: groups
    /// are written with spaces (ISO 80000-1, 7.3.1).
    ///
    /// # Errors
    /// A [`NumberError`] where the text does not start with a number, or the number has several readings.
    pub fn read(text: &str) -> Result<Written, NumberError> {
        let clean: String = text.trim().replace(['\u{2212}', '–'], "-");
        let (negative, body) = match clean.strip_prefix(['-', '+']) {
            Some(body) => (clean.starts_with('-'), body.trim_start_matches(SPACES)),
            None => (false, clean.as_str()),
        };
        let end = mantissa_end(body);
        let mantissa = decimal(&body[..end]).ok_or_else(|| NumberError::Ambiguous(text.trim().to_owned()))?;
        if mantissa.is_empty() {
            return Err(NumberError::NoDigits(text.trim().to_owned()));
        }
        let mut rest = &body[end..];
        let mut value: f64 = mantissa.parse().map_err(|_| NumberError::NoDigits(text.trim().to_owned()))?;
        if let Some((power, behind)) = power_of_ten(rest) {
            value = format!("{mantissa}e{power}").parse().unwrap_or(f64::NAN);
            rest = behind;
        } else if let Some(below) = rest.trim_start_matches(SPACES).strip_prefix('/') {
            let below = below.trim_start_matches(SPACES);
            let digits = below.find(|sign: char| !sign.is_ascii_digit()).unwrap_or(below.len());
            if digits > 0 {
                let divisor: f64 = below[..digits].parse().unwrap_or(0.0);
                if divisor == 0.0 {
                    return Err(NumberError::Zero(text.trim().to_owned()));
                }
                value /= divisor;
                rest = &below[digits..];
            }
        }
        let value = if negative { -value } else { value };
        Ok(Written { value, figures: figures(&mantissa), rest: rest.trim_matches(SPACES).trim().to_owned() })
    }
}

/// Where digits, decimal signs and spaces between digits end.
fn mantissa_end(body: &str) -> usize {
    let mut end = 0;
    for (at, sign) in body.char_indices() {
        let next = || body[at + sign.len_utf8()..].chars().next();
        let inner = |wanted: bool| wanted && next().is_some_and(|next| next.is_ascii_digit());
        if sign.is_ascii_digit() || inner(matches!(sign, '.' | ',')) {
            end = at + sign.len_utf8();
        } else if !(at > 0 && inner(SPACES.contains(&sign)) && groups_of_three(&body[at + sign.len_utf8()..])) {
            break;
        }
    }
    end
}

fn groups_of_three(rest: &str) -> bool {
    rest.bytes().take_while(u8::is_ascii_digit).count() == 3
}

/// The mantissa with a point as decimal sign and no groups; nothing where several readings are possible.
fn decimal(text: &str) -> Option<String> {
    let compact: String = text.chars().filter(|sign| !SPACES.contains(sign)).collect();
    let (points, commas) = (compact.matches('.').count(), compact.matches(',').count());
    match (points, commas) {
        (0 | 1, 0) => Some(compact),
        (0, 1) => Some(compact.replace(',', ".")),
        (1, 1) => {
            let point_last = compact.rfind('.') > compact.rfind(',');
            Some(if point_last { compact.replace(',', "") } else { compact.replace('.', "").replace(',', ".") })
        }
        (1, _) if compact.rfind('.') > compact.rfind(',') => Some(compact.replace(',', "")),
        (_, 1) if compact.rfind(',') > compact.rfind('.') => Some(compact.replace('.', "").replace(',', ".")),
        _ => None,
    }
}

/// `e3`, `·10^3`, `x 10³`, `* 10^-3`, `× 10⁻³`: the power and what stands behind it.
fn power_of_ten(rest: &str) -> Option<(i32, &str)> {
    if let Some(power) = rest.strip_prefix(['e', 'E']) {
        return whole(power);
    }
    let factor = rest.trim_start_matches(SPACES).strip_prefix(['·', '⋅', '*', 'x', 'X', '×'])?;
    let power = factor.trim_start_matches(SPACES).strip_prefix("10")?;
    whole(power.strip_prefix('^').unwrap_or(power))
}

/// A whole number in plain or raised digits, brackets allowed.
fn whole(text: &str) -> Option<(i32, &str)> {
    let open = text.strip_prefix('(');
    let body = open.unwrap_or(text);
    let (mut digits, mut end) = (String::new(), 0);
    for (at, sign) in body.char_indices() {
        let plain = match sign {
            '-' | '⁻' if digits.is_empty() => '-',
            '+' | '⁺' if digits.is_empty() => '+',
            '0'..='9' => sign,
            _ => match "⁰¹²³⁴⁵⁶⁷⁸⁹".chars().position(|raised| raised == sign) {
                Some(digit) => char::from(b'0' + digit as u8),
                None => break,
            },
        };
        digits.push(plain);
        end = at + sign.len_utf8();
    }
    let rest = &body[end..];
    let rest = if open.is_some() { rest.strip_prefix(')')? } else { rest };
    Some((digits.parse().ok().filter(|power: &i32| power.abs() < 300)?, rest))
}

/// Significant figures of a plain decimal text.
fn figures(mantissa: &str) -> usize {
    let digits: String = mantissa.chars().filter(char::is_ascii_digit).collect();
    digits.trim_start_matches('0').len().max(1)
}

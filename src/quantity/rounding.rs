//! The one rounding policy. In: a number. Out: its decimal text with zeros kept, and the value of that text.
//! Ties go away from zero, as schools teach and ISO 80000-1, annex B, rule B allows; a number is rounded once, never in steps.
//!
//! What is rounded is the decimal value: a binary neighbour such as 12.349999999999998 counts as 12.35. The number is
//! first written with 15 significant digits, which every double carries, and those digits are rounded. What is no
//! number (NaN, infinite) must never become one: it is written as such.

use serde::{Deserialize, Serialize};

use super::{digits::Digits, whole};

/// A rounded number: plain decimal text and its value.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Rounded {
    /// The value of the text.
    pub value: f64,
    /// Digits with a point and a hyphen for minus, such as `-12.30`; `1.23e8` above 10⁷ and below 10⁻⁴.
    pub text: String,
}

/// The double nearest to a power of ten; a product of doubles may miss it.
fn power_of_ten(power: i32) -> f64 {
    format!("1e{power}").parse().unwrap_or(f64::NAN)
}

/// What can not be rounded, in its own words.
fn unbounded(value: f64) -> Rounded {
    Rounded { value, text: value.to_string() }
}

fn finish(digits: &Digits, last: i32) -> Rounded {
    let text = digits.write(last);
    Rounded { value: text.parse().unwrap_or(f64::NAN), text }
}

/// Rounds to decimal places, at most 14.
pub fn to_places(number: f64, places: usize) -> Rounded {
    if !number.is_finite() {
        return unbounded(number);
    }
    whole::to_places(number, places).unwrap_or_else(|| by_digits(number, places))
}

/// Rounds a finite number by its decimal digits.
pub(super) fn by_digits(number: f64, places: usize) -> Rounded {
    let last = -(places.min(14) as i32);
    let mut digits = Digits::of(number);
    digits.cut(last);
    finish(&digits, last)
}

/// Rounds to significant figures, 1 to 15; zero has its figures behind the point.
pub fn to_figures(number: f64, figures: usize) -> Rounded {
    let figures = figures.clamp(1, 15) as i32;
    if number == 0.0 || !number.is_finite() {
        return to_places(number, figures as usize - 1);
    }
    let mut digits = Digits::of(number);
    let last = digits.power - figures + 1;
    digits.cut(last);
    // 9.996 to three figures is 10.0: one place fewer after the carry.
    let last = if digits.power - last + 1 > figures { last + 1 } else { last };
    finish(&digits, last)
}

/// A positive step such as 0.1, 0.2 or 5.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Step {
    size: f64,
    places: usize,
}

impl Step {
    /// A step, whose decimals are counted once.
    pub fn new(size: f64) -> Self {
        Self { size, places: places(&plain(size)) }
    }

    /// Rounds to a multiple of the step, with the step's decimals.
    pub fn round(self, number: f64) -> Rounded {
        let count = to_places(number / self.size, 0).value;
        to_places(count * self.size, self.places)
    }
}

/// A number as short as it can be written in full, such as `0.05`.
pub fn plain(number: f64) -> String {
    format!("{number}")
}

/// Decimal places of a text, those before a power of ten where there is one.
pub fn places(text: &str) -> usize {
    let mantissa = text.split(['e', 'E']).next().unwrap_or(text);
    mantissa.split_once('.').map_or(0, |(_, decimals)| decimals.len())
}

/// Significant figures of a text: 4 for `12.30`, 3 for `0.0120` and `1.23e8`; zeros at the end count, a bare zero is one.
pub fn figures(text: &str) -> usize {
    let mantissa = text.split(['e', 'E']).next().unwrap_or(text);
    let leading = mantissa.chars().filter(char::is_ascii_digit).skip_while(|&digit| digit == '0');
    leading.count().max(1)
}

/// The unit in the last place of a text: 0.01 for `12.30`, 1 for `120`, 10⁶ for `1.23e8`.
pub fn last_place(text: &str) -> f64 {
    let power: i32 = text.split_once(['e', 'E']).and_then(|(_, power)| power.parse().ok()).unwrap_or(0);
    power_of_ten(power.saturating_sub(i32::try_from(places(text)).unwrap_or(i32::MAX)))
}

/// The unit in the last of `figures` significant figures that a number is rounded to: 0.1 for 15.12 and for 9.996 with three.
pub fn last_figure(number: f64, figures: usize) -> f64 {
    let figures = figures.clamp(1, 15) as i32;
    let power = if number == 0.0 || !number.is_finite() {
        0
    } else {
        let mut digits = Digits::of(number);
        digits.cut(digits.power - figures + 1);
        digits.power
    };
    power_of_ten(power - figures + 1)
}

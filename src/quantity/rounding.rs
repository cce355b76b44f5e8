//! The one rounding policy. In: a number. Out: its decimal text with zeros kept, and the value of that text.
//! Ties go away from zero, as schools teach and ISO 80000-1, annex B, rule B allows; a number is rounded once, never in steps.
//!
//! What is rounded is the decimal value: a binary neighbour such as 12.349999999999998 counts as 12.35. The number is
//! first written with 15 significant digits, which every double carries, and those digits are rounded.

/// A rounded number: plain decimal text and its value.
#[derive(Debug, Clone, PartialEq)]
pub struct Rounded {
    /// The value of the text.
    pub value: f64,
    /// Digits with a point and a hyphen for minus, such as `-12.30`; `1.23e8` above 10⁷ and below 10⁻⁴.
    pub text: String,
}

/// The 15 significant digits of a number and the power of ten of the first.
struct Digits {
    negative: bool,
    digits: Vec<u8>,
    power: i32,
}

impl Digits {
    fn of(number: f64) -> Self {
        let text = format!("{:.14e}", number.abs());
        let (mantissa, power) = text.split_once('e').unwrap_or((&text, "0"));
        Self {
            negative: number < 0.0,
            digits: mantissa.bytes().filter(u8::is_ascii_digit).map(|digit| digit - b'0').collect(),
            power: power.parse().unwrap_or(0),
        }
    }

    /// Keeps the digits down to the place of 10^`last`, rounding ties away from zero.
    fn cut(&mut self, last: i32) {
        let keep = self.power - last + 1;
        if keep < 0 {
            self.digits.clear();
        } else if (keep as usize) < self.digits.len() {
            let up = self.digits[keep as usize] >= 5;
            self.digits.truncate(keep as usize);
            if up {
                self.raise();
            }
        }
        if self.digits.iter().all(|&digit| digit == 0) {
            (self.digits, self.power, self.negative) = (vec![0], last.max(0), false);
        }
    }

    fn raise(&mut self) {
        for digit in self.digits.iter_mut().rev() {
            if *digit < 9 {
                *digit += 1;
                return;
            }
            *digit = 0;
        }
        self.digits.insert(0, 1);
        self.power += 1;
    }

    fn digit(&self, power: i32) -> char {
        let at = self.power - power;
        let digit = usize::try_from(at).ok().and_then(|at| self.digits.get(at)).copied().unwrap_or(0);
        char::from(b'0' + digit)
    }

    /// The text down to the place of 10^`last`.
    fn write(&self, last: i32) -> String {
        let mut text = String::new();
        if self.negative {
            text.push('-');
        }
        let zero = self.digits == [0];
        if !zero && (self.power >= 7 || self.power < -4) {
            text.push(self.digit(self.power));
            let rest: String = (last..self.power).rev().map(|power| self.digit(power)).collect();
            if !rest.is_empty() {
                text.push('.');
                text.push_str(&rest);
            }
            text.push('e');
            text.push_str(&self.power.to_string());
            return text;
        }
        let top = if zero { 0 } else { self.power.max(0) };
        text.extend((0..=top).rev().map(|power| self.digit(power)));
        if last < 0 {
            text.push('.');
            text.extend((last..0).rev().map(|power| self.digit(power)));
        }
        text
    }
}

fn finish(digits: &Digits, last: i32) -> Rounded {
    let text = digits.write(last);
    Rounded { value: text.parse().unwrap_or(f64::NAN), text }
}

/// Rounds to decimal places; `places` may not exceed 14.
pub fn to_places(number: f64, places: usize) -> Rounded {
    let last = -(places.min(14) as i32);
    let mut digits = Digits::of(number);
    digits.cut(last);
    finish(&digits, last)
}

/// Rounds to significant figures, at least one.
pub fn to_figures(number: f64, figures: usize) -> Rounded {
    let figures = figures.clamp(1, 15) as i32;
    let mut digits = Digits::of(number);
    if number == 0.0 {
        return to_places(0.0, figures as usize - 1);
    }
    let last = digits.power - figures + 1;
    digits.cut(last);
    // 9.996 to three figures is 10.0: one place fewer after the carry.
    let last = if digits.power - last + 1 > figures { last + 1 } else { last };
    finish(&digits, last)
}

/// Rounds to a multiple of a step such as 0.1, 0.2 or 5, with the step's decimals.
pub fn to_step(number: f64, step: f64) -> Rounded {
    let places = places(&plain(step));
    let count = to_places(number / step, 0).value;
    to_places(count * step, places)
}

/// A number as short as it can be written in full, such as `0.05`.
pub fn plain(number: f64) -> String {
    format!("{number}")
}

/// Decimal places of a text.
pub fn places(text: &str) -> usize {
    let mantissa = text.split(['e', 'E']).next().unwrap_or(text);
    mantissa.split_once('.').map_or(0, |(_, decimals)| decimals.len())
}

/// The unit in the last place of a text: 0.01 for `12.30`, 1 for `120`, 10⁶ for `1.23e8`.
pub fn last_place(text: &str) -> f64 {
    let power: i32 = text.split_once(['e', 'E']).and_then(|(_, power)| power.parse().ok()).unwrap_or(0);
    libm::pow(10.0, f64::from(power) - places(text) as f64)
}

/// The unit in the last of `figures` significant figures of a number.
pub fn last_figure(number: f64, figures: usize) -> f64 {
    if number == 0.0 {
        return libm::pow(10.0, 1.0 - figures as f64);
    }
    libm::pow(10.0, f64::from(Digits::of(number).power) - figures as f64 + 1.0)
}

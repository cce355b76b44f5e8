//! A number as decimal digits. In: a double. Out: its digits, cut at a place, and their text.
//! It must never hold more digits than every double carries, which are 15.

/// The 15 significant digits of a number and the power of ten of the first.
pub(super) struct Digits {
    negative: bool,
    digits: Vec<u8>,
    pub(super) power: i32,
}

impl Digits {
    /// The digits of a finite number.
    pub(super) fn of(number: f64) -> Self {
        let text = format!("{:.14e}", number.abs());
        let (mantissa, power) = text.split_once('e').unwrap_or((&text, "0"));
        Self {
            negative: number < 0.0,
            digits: mantissa.bytes().filter(u8::is_ascii_digit).map(|digit| digit - b'0').collect(),
            power: power.parse().unwrap_or(0),
        }
    }

    /// Keeps the digits down to the place of 10^`last`, rounding ties away from zero.
    pub(super) fn cut(&mut self, last: i32) {
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
    pub(super) fn write(&self, last: i32) -> String {
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

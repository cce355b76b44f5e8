//! The dimension of a quantity: exact exponents of the seven base quantities of the SI.
//! In: exponents. Out: their products and powers. It must never hold a rounded exponent, nor overflow on a wild one.

use std::{
    fmt,
    ops::{Div, Mul},
};

use num_rational::Ratio;
use serde::{Deserialize, Serialize};

use super::stored;

/// An exact exponent.
pub type Exponent = Ratio<i32>;

/// Symbols of the base units, in the order of the exponents (SI brochure, table 2).
const BASE: [&str; 7] = ["kg", "m", "s", "A", "K", "mol", "cd"];

/// Exponents of mass, length, time, current, temperature, amount and luminous intensity.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize)]
pub struct Dimension(#[serde(with = "stored::exponents")] [Exponent; 7]);

impl Dimension {
    /// The dimension of a plain number.
    pub const ONE: Self = Self([Exponent::new_raw(0, 1); 7]);

    /// A dimension from whole exponents, in the order kg, m, s, A, K, mol, cd.
    pub(crate) const fn whole(exponents: [i32; 7]) -> Self {
        let [a, b, c, d, e, f, g] = exponents;
        let raw = Exponent::new_raw;
        Self([raw(a, 1), raw(b, 1), raw(c, 1), raw(d, 1), raw(e, 1), raw(f, 1), raw(g, 1)])
    }

    /// Whether it is that of a plain number.
    pub fn is_one(self) -> bool {
        self == Self::ONE
    }

    /// The dimension raised to an exact power.
    #[must_use]
    pub fn pow(self, exponent: Exponent) -> Self {
        let product = |own: Exponent| held(wide(own) * wide(exponent));
        Self(self.0.map(product))
    }

    /// The fraction with a denominator up to 12 that a number stands for (to a billionth), if it is one.
    pub fn exponent(number: f64) -> Option<Exponent> {
        (1..=12).find_map(|denominator| {
            let numerator = number * f64::from(denominator);
            let whole = libm::round(numerator);
            ((numerator - whole).abs() < 1e-9 && whole.abs() < 1e6).then(|| Exponent::new(whole as i32, denominator))
        })
    }
}

impl Mul for Dimension {
    type Output = Self;

    fn mul(self, other: Self) -> Self {
        Self(std::array::from_fn(|at| held(wide(self.0[at]) + wide(other.0[at]))))
    }
}

impl Div for Dimension {
    type Output = Self;

    fn div(self, other: Self) -> Self {
        Self(std::array::from_fn(|at| held(wide(self.0[at]) - wide(other.0[at]))))
    }
}

impl fmt::Display for Dimension {
    /// Base units with their exponents, such as `kg·m²·s⁻³`; `1` for a plain number.
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        let mut first = true;
        for (symbol, &exponent) in BASE.iter().zip(&self.0) {
            if exponent == Exponent::from(0) {
                continue;
            }
            if !first {
                out.write_str("·")?;
            }
            first = false;
            write!(out, "{symbol}{}", raised(exponent))?;
        }
        if first { out.write_str("1") } else { Ok(()) }
    }
}

fn wide(exponent: Exponent) -> Ratio<i128> {
    Ratio::new_raw((*exponent.numer()).into(), (*exponent.denom()).into())
}

/// An exponent that 32 bits can't hold is held at their limit: no quantity has one, so it agrees with none.
fn held(exponent: Ratio<i128>) -> Exponent {
    match (i32::try_from(*exponent.numer()), i32::try_from(*exponent.denom())) {
        (Ok(top), Ok(bottom)) => Exponent::new_raw(top, bottom),
        _ => Exponent::from(if *exponent.numer() < 0 { -i32::MAX } else { i32::MAX }),
    }
}

/// An exponent in raised signs, nothing for one; a fraction as `^(1/2)`.
pub(crate) fn raised(exponent: Exponent) -> String {
    if exponent == Exponent::from(1) {
        return String::new();
    }
    if !exponent.is_integer() {
        return format!("^({exponent})");
    }
    raised_digits(&exponent.to_integer().to_string())
}

/// Digits and minus as raised signs.
pub(crate) fn raised_digits(text: &str) -> String {
    text.chars()
        .map(|sign| match sign {
            '-' => '⁻',
            '0' => '⁰',
            '1' => '¹',
            '2' => '²',
            '3' => '³',
            '4' => '⁴',
            '5' => '⁵',
            '6' => '⁶',
            '7' => '⁷',
            '8' => '⁸',
            '9' => '⁹',
            other => other,
        })
        .collect()
}

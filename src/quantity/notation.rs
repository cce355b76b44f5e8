//! How a language writes numbers. In: plain decimal text with a point. Out: the text a reader expects.
//! It must never round.

use serde::Deserialize;

use super::{Unit, dimension::raised_digits};

/// Narrow no-break space, between a number and its unit.
const NARROW: char = '\u{202F}';

/// The signs with which a language writes numbers.
#[derive(Debug, Clone, PartialEq, Eq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Notation {
    /// The decimal sign, `.` or `,`.
    pub decimal: String,
    /// What stands between groups of three digits from five digits on (ISO 80000-1, 7.3.1: a thin space).
    pub group: String,
}

impl Notation {
    /// A plain decimal text such as `-12345.60` or `1.23e8` in this notation.
    pub fn number(&self, plain: &str) -> String {
        let (mantissa, power) = plain.split_once(['e', 'E']).map_or((plain, None), |(text, power)| (text, Some(power)));
        let (sign, digits) = mantissa.strip_prefix('-').map_or(("", mantissa), |digits| ("\u{2212}", digits));
        let (whole, decimals) = digits.split_once('.').unwrap_or((digits, ""));
        let mut text = format!("{sign}{}", self.grouped(whole));
        if !decimals.is_empty() {
            text.push_str(&self.decimal);
            text.push_str(decimals);
        }
        if let Some(power) = power {
            text.push_str("·10");
            text.push_str(&raised_digits(power));
        }
        text
    }

    /// A number with its unit, a narrow no-break space between them (none before the sign of angle).
    pub fn quantity(&self, plain: &str, unit: &Unit) -> String {
        let (number, unit) = (self.number(plain), unit.print());
        match unit.as_str() {
            "" => number,
            "°" => format!("{number}°"),
            _ => format!("{number}{NARROW}{unit}"),
        }
    }

    fn grouped(&self, whole: &str) -> String {
        if whole.len() < 5 {
            return whole.to_owned();
        }
        let head = whole.len() % 3;
        let mut groups: Vec<&str> = Vec::new();
        if head > 0 {
            groups.push(&whole[..head]);
        }
        groups.extend((head..whole.len()).step_by(3).map(|at| &whole[at..at + 3]));
        groups.join(&self.group)
    }
}

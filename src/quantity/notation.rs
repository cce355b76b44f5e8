//! How a language writes numbers. In: plain decimal text with a point. Out: the text a reader expects.
//! It must never round.

use std::borrow::Cow;

use serde::Deserialize;

use super::{Unit, dimension::raised_digits};

/// Narrow no-break space, between a number and its unit.
const NARROW: char = '\u{202F}';
/// No-break space.
const NO_BREAK: char = '\u{A0}';

/// The signs with which a language writes numbers.
#[derive(Debug, Clone, PartialEq, Eq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Notation {
    /// The decimal sign, `.` or `,`.
    pub decimal: String,
    /// What stands between groups of three digits from five digits on (ISO 80000-1, 7.3.1: a thin space).
    pub group: String,
    /// A day: text with `{day}`, `{month}`, `{year}`, and `{name}` for the name of the month.
    pub date: String,
    /// The names of the months, where a day is written with them.
    #[serde(default)]
    pub months: Vec<String>,
    /// Signs that no line may begin with although a space stands before them.
    #[serde(default)]
    pub unbreakable_before: String,
    /// Signs that no line may end with although a space stands behind them.
    #[serde(default)]
    pub unbreakable_after: String,
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

    /// A day of the calendar, month from 1.
    pub fn day(&self, (year, month, day): (u16, u8, u8)) -> String {
        let name = self.months.get(usize::from(month).saturating_sub(1)).map_or("", String::as_str);
        let parts = [("{day}", day.to_string()), ("{month}", month.to_string()), ("{year}", year.to_string())];
        let text = parts.iter().fold(self.date.clone(), |text, (mark, number)| text.replace(mark, number));
        text.replace("{name}", name)
    }

    /// A text with its spaces unbreakable where the language wants signs to stay with their words.
    pub fn kept_together<'a>(&self, text: &'a str) -> Cow<'a, str> {
        let (before, after) = (&self.unbreakable_before, &self.unbreakable_after);
        if !text.contains(|sign| before.contains(sign) || after.contains(sign)) {
            return Cow::Borrowed(text);
        }
        let signs: Vec<char> = text.chars().collect();
        let keep = |place: usize| {
            let next = signs.get(place + 1).is_some_and(|next| before.contains(*next));
            next || place > 0 && after.contains(signs[place - 1])
        };
        signs
            .iter()
            .enumerate()
            .map(|(place, &sign)| if sign == ' ' && keep(place) { NO_BREAK } else { sign })
            .collect()
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

//! A day of the calendar. In: `2026-12-03` (ISO 8601). Out: the same, checked, and as a language writes it.
//! It must never ask what day it is: the same inputs give the same pages on every day.

use std::{fmt, str::FromStr};

use super::Language;

/// A day of the Gregorian calendar.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Day {
    year: u16,
    month: u8,
    day: u8,
}

impl Day {
    /// The day as a language writes it.
    pub fn written(self, language: &Language) -> String {
        language.notation.day((self.year, self.month, self.day))
    }
}

impl FromStr for Day {
    type Err = String;

    fn from_str(text: &str) -> Result<Self, String> {
        let parts: Vec<&str> = text.trim().split('-').collect();
        let read = || {
            let [year, month, day] = parts[..] else { return None };
            let digits = |part: &str, count| part.len() == count && part.bytes().all(|sign| sign.is_ascii_digit());
            if !(digits(year, 4) && digits(month, 2) && digits(day, 2)) {
                return None;
            }
            let day = Self { year: year.parse().ok()?, month: month.parse().ok()?, day: day.parse().ok()? };
            (1..=day.days_in_month()?).contains(&day.day).then_some(day)
        };
        read().ok_or_else(|| "write a day of the calendar as year, month and day, such as 2026-12-03".to_owned())
    }
}

impl Day {
    fn days_in_month(self) -> Option<u8> {
        let leap = self.year.is_multiple_of(4) && !self.year.is_multiple_of(100) || self.year.is_multiple_of(400);
        match self.month {
            2 => Some(if leap { 29 } else { 28 }),
            4 | 6 | 9 | 11 => Some(30),
            1 | 3 | 5 | 7 | 8 | 10 | 12 => Some(31),
            _ => None,
        }
    }
}

impl fmt::Display for Day {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(out, "{:04}-{:02}-{:02}", self.year, self.month, self.day)
    }
}

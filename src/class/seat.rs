//! A seat. In: `B4`. Out: row and number. It must not know who sits there.

use std::fmt;

/// A seat: the letter of its row and its number in the row.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Seat {
    /// The row, `A` to `Z`.
    pub row: char,
    /// The number, from 1.
    pub number: u32,
}

impl Seat {
    /// Reads a seat such as `B4`, in any case.
    pub fn parse(text: &str) -> Option<Self> {
        let text = text.trim();
        let row = text.chars().next()?.to_ascii_uppercase();
        let digits = text.get(1..)?.trim();
        let number: u32 = digits.parse().ok()?;
        (row.is_ascii_uppercase() && digits.bytes().all(|digit| digit.is_ascii_digit()) && (1..=999).contains(&number))
            .then_some(Self { row, number })
    }
}

impl fmt::Display for Seat {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(out, "{}{}", self.row, self.number)
    }
}

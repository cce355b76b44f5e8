//! An answer. In: a computed value. Out: its printed form and the range that earns the accuracy mark.
//! It must not know how the value was computed.

use crate::quantity::{Unit, rounding::Rounded};

/// The answer to a task.
#[derive(Debug, Clone, PartialEq)]
pub enum Answer {
    /// A number.
    Number(Number),
    /// A column of the table.
    Column(Vec<Cell>),
    /// A graph or words: marked by ticks.
    Ticks,
}

/// A computed number.
#[derive(Debug, Clone, PartialEq)]
pub struct Number {
    /// Full precision, in `unit`.
    pub value: f64,
    /// The unit.
    pub unit: Unit,
    /// The number as printed: plain decimal text.
    pub text: String,
    /// The accepted range, ends included, in `unit`: from and to, as printed.
    pub accept: (Rounded, Rounded),
    /// How far a careful student's own value may lie from `value`, in SI.
    pub slack: f64,
}

/// A cell of a computed column.
#[derive(Debug, Clone, PartialEq)]
pub struct Cell {
    /// Full precision, in the column's unit.
    pub value: f64,
    /// As printed: plain decimal text.
    pub text: String,
}

//! An answer. In: a computed value. Out: its printed form and the range that earns the accuracy mark.
//! It must not know how the value was computed.

use serde::{Deserialize, Serialize};

use super::{Budget, Gap, Slip};
use crate::quantity::{Unit, rounding::Rounded};

/// The answer to a task.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub enum Answer {
    /// A number.
    Number(Box<Number>),
    /// A column of the table.
    Column(Vec<Cell>),
    /// A graph or words: marked by ticks.
    Ticks,
    /// None: a real run can't answer the task.
    Open(Gap),
}

/// A computed number.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Number {
    /// Full precision, in `unit`.
    pub value: f64,
    /// The unit.
    pub unit: Unit,
    /// The number as printed: plain decimal text.
    pub text: String,
    /// The accepted range, ends included, in `unit`: from and to, as printed.
    pub accept: (Rounded, Rounded),
    /// Where the range comes from.
    pub budget: Budget,
    /// What likely slips give: those of the definition in its order, then powers of ten that would be accepted.
    pub slips: Vec<Slip>,
}

/// A cell of a computed column.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Cell {
    /// Full precision, in the column's unit.
    pub value: f64,
    /// As printed: plain decimal text.
    pub text: String,
}

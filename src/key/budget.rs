//! Where an accepted range comes from. In: nothing but results. Out: data to show. It must decide nothing.

use serde::{Deserialize, Serialize};

use crate::{experiment::definition::Answered, uncertainty::Method};

/// The uncertainty budget of an answer.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Budget {
    /// How the task is answered.
    pub how: Answered,
    /// How deviations were passed on.
    pub method: Method,
    /// Standard uncertainty, rounding of the result included, in the answer's unit.
    pub standard: f64,
    /// The 95 % coverage interval, in the answer's unit.
    pub coverage: (f64, f64),
    /// What the student's own roundings can do at their worst, to either side, in the answer's unit.
    pub rounding: f64,
    /// What decided the lower and the upper end.
    pub bounds: (Bound, Bound),
    /// What contributes, the largest first.
    pub contributions: Vec<Contribution>,
}

/// What decided an end of a range.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
pub enum Bound {
    /// Roundings at their worst.
    Rounding,
    /// The coverage interval.
    Coverage,
    /// One unit in the last figure.
    LastFigure,
    /// Half way to a slip.
    Slip,
}

/// A cause with what it contributes.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Contribution {
    /// The cause.
    pub cause: Cause,
    /// Standard uncertainty by this cause alone, in the answer's unit, to first order.
    pub standard: f64,
    /// Its share of the variance, from 0 to 1.
    pub share: f64,
}

/// What an answer may be off by.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub enum Cause {
    /// The student's rounding of the answer to this task.
    Rounding(usize),
    /// Noise and resolution of the readings in this column.
    Readings(String),
    /// Half a small square, where the answer to this task is read off.
    Square(usize),
    /// The lines that can be drawn by hand for this task.
    Lines(usize),
    /// Half a small square at each end of the triangle for this task.
    Ends(usize),
}

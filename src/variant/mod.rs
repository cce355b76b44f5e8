//! One student's data. In: an experiment and a seed. Out: drawn quantities, readings, and the values that formulas see.
//! It must answer no task.

mod draw;
mod read;
mod values;

pub(crate) use draw::attempt;
pub use draw::{DrawError, Outcome, Rejections, draw, drawn_of, outcome, rejections, run_of, settings_of};
pub use read::{readings_of, schedule_of};
pub use values::Known;

use serde::{Deserialize, Serialize};

use crate::{quantity::Unit, readings::Table};

/// A printed quantity.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Stated {
    /// Its name in formulas.
    pub id: String,
    /// Its value in `unit`, as printed.
    pub value: f64,
    /// The printed number: plain decimal text.
    pub text: String,
    /// Its unit.
    pub unit: Unit,
}

/// What one student gets: drawn quantities, told quantities, readings.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Variant {
    /// The drawn quantities, told or not.
    pub drawn: Vec<Stated>,
    /// What the student is told: drawn, given, and read once.
    pub told: Vec<Stated>,
    /// The table of readings.
    pub table: Table,
    /// Whether the readings were really taken, so that a task may have no answer.
    pub measured: bool,
    /// Which draw of this student it is, from 0.
    pub attempt: u32,
}

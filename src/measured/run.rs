//! One run as it was read. In: readings with their places. Out: the same in the units of the experiment. It must round nothing.

use super::Sought;
use crate::{report::Place, variant::Stated};

/// A run of one group, or of one student.
#[derive(Debug, Clone, PartialEq)]
pub struct MeasuredRun {
    /// The group or the student's id; empty where the file names none.
    pub who: String,
    /// Where it begins.
    pub place: Place,
    /// The rows, whose places ascend.
    pub rows: Vec<MeasuredRow>,
    /// What was read once or set, as far as it was noted.
    pub told: Vec<Stated>,
}

/// A row.
#[derive(Debug, Clone, PartialEq)]
pub struct MeasuredRow {
    /// When, or where, it was read.
    pub at: Reading,
    /// A reading for each column of the experiment; nothing where it is missing or of no use.
    pub cells: Vec<Option<Reading>>,
    /// Where it stands.
    pub place: Place,
}

/// A number as it was read.
#[derive(Debug, Clone, PartialEq)]
pub struct Reading {
    /// Its value in the unit of the experiment, in full.
    pub value: f64,
    /// The same as plain decimal text, with the digits that were read; rounded where another unit was converted.
    pub text: String,
}

impl Reading {
    /// The reading as something that was noted once, with the value that is printed.
    pub(super) fn stated(self, sought: &Sought<'_>) -> Stated {
        let value = self.text.parse().unwrap_or(self.value);
        Stated { id: sought.id.to_owned(), value, text: self.text, unit: sought.unit.clone() }
    }
}

impl MeasuredRow {
    /// All readings of the row, if none is missing.
    pub fn whole(&self) -> Option<Vec<&Reading>> {
        self.cells.iter().map(Option::as_ref).collect()
    }
}

//! A range of values on a grid. In: ends and step as an author wrote them. Out: one of the values, evenly likely.
//! It must not fall between two steps.

use rand::RngExt;

use super::Seed;
use crate::quantity::rounding;

/// Values from `from` on, `step` apart, `count` of them; all in one unit.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Range {
    /// The first value.
    pub from: f64,
    /// Distance of neighbours.
    pub step: f64,
    /// How many values there are.
    pub count: u32,
    /// Decimals that are printed.
    pub places: usize,
}

/// Why a range holds no values.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum RangeError {
    /// The step is zero or negative.
    #[error("the step is not above zero")]
    Step,
    /// The ends are swapped.
    #[error("`to` lies below `from`")]
    Swapped,
    /// The step does not divide the range.
    #[error("the step does not lead from `from` to `to`")]
    Uneven,
    /// More values than anybody can tell apart.
    #[error("the range has more than a million values")]
    Endless,
}

impl Range {
    /// The values `from`, `from + step`, ... `to`.
    ///
    /// # Errors
    /// A [`RangeError`] where the three do not fit together.
    pub fn new(from: f64, to: f64, step: f64, places: usize) -> Result<Self, RangeError> {
        if step.is_nan() || step <= 0.0 {
            return Err(RangeError::Step);
        }
        if to < from {
            return Err(RangeError::Swapped);
        }
        let steps = (to - from) / step;
        if steps > 1e6 {
            return Err(RangeError::Endless);
        }
        let whole = libm::round(steps);
        if (steps - whole).abs() > 1e-6 {
            return Err(RangeError::Uneven);
        }
        Ok(Self { from, step, count: whole as u32 + 1, places })
    }

    /// The value that a student gets of the quantity `name`, rounded to the decimals of the grid.
    pub fn draw(&self, seed: &Seed<'_>, name: &str) -> f64 {
        self.value(self.index(seed, name))
    }

    /// The place of that value on the grid.
    pub fn index(&self, seed: &Seed<'_>, name: &str) -> u32 {
        seed.stream(name).random_range(0..self.count)
    }

    /// The value at a place of the grid.
    pub fn value(&self, index: u32) -> f64 {
        rounding::to_places(self.from + f64::from(index) * self.step, self.places).value
    }

    /// How far a place of the grid lies between the ends, from -1 to 1; a range of one value has it at -1.
    pub fn along(&self, index: u32) -> f64 {
        2.0 * f64::from(index) / f64::from(self.count.max(2) - 1) - 1.0
    }
}

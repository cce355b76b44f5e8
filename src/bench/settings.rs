//! What a bench is set to. In: names and values in the inputs' units. Out: checked values.
//! It must refuse what the model does not cover.

use std::collections::BTreeMap;

use super::{Bench, BenchError};
use crate::report::nearest;

/// A value for every input of a bench, in the input's unit.
#[derive(Debug, Clone, PartialEq)]
pub struct Settings(BTreeMap<&'static str, f64>);

impl Settings {
    /// The bench's own values.
    pub fn defaults(bench: &dyn Bench) -> Self {
        Self(bench.inputs().iter().map(|input| (input.name, input.default)).collect())
    }

    /// Sets an input to a value in its unit. Whether the model holds there is checked by [`Settings::check`].
    ///
    /// # Errors
    /// [`BenchError::UnknownInput`] for a name that the bench does not have.
    pub fn set(&mut self, name: &str, value: f64) -> Result<(), BenchError> {
        match self.0.iter_mut().find(|(known, _)| **known == name) {
            Some((_, slot)) => *slot = value,
            None => {
                let near = nearest(name, self.0.keys().copied()).map(str::to_owned);
                return Err(BenchError::UnknownInput { name: name.to_owned(), near });
            }
        }
        Ok(())
    }

    /// The value of an input of the bench; NaN for a name that it does not have.
    pub fn get(&self, name: &str) -> f64 {
        self.0.get(name).copied().unwrap_or(f64::NAN)
    }

    /// Checks every value against its valid range.
    ///
    /// # Errors
    /// [`BenchError::OutOfRange`] for the first value outside.
    pub fn check(&self, bench: &dyn Bench) -> Result<(), BenchError> {
        for input in bench.inputs() {
            let (low, high) = input.valid;
            let value = self.get(input.name);
            // A value at an end may be off by the rounding of its unit's conversion.
            let slack = 1e-12 * low.abs().max(high.abs());
            if !(low - slack..=high + slack).contains(&value) {
                return Err(BenchError::OutOfRange { name: input.name, value, unit: input.unit, low, high });
            }
        }
        Ok(())
    }
}

//! What a formula takes that may be off. In: a name, a row, a deviation. Out: values with it moved.
//! It must leave every other value as it is.

use super::Deviation;
use crate::formula::{Value, Values};

/// A value of a formula that may be off.
#[derive(Debug, Clone, PartialEq)]
pub struct Input {
    /// Its name in the formula.
    pub name: String,
    /// The row, if it stands in a column.
    pub row: Option<usize>,
    /// What it may be off by, in SI.
    pub deviation: Deviation,
}

impl Input {
    /// The value of its name with the input moved by `step`.
    pub(super) fn moved(&self, value: &Value, step: f64) -> Value {
        match self.row {
            None => value.map(|number| number + step),
            Some(row) => {
                let mut numbers = value.data().to_vec();
                if let Some(number) = numbers.get_mut(row) {
                    *number += step;
                }
                Value::column(numbers)
            }
        }
    }
}

/// Values with some in another place.
pub(crate) struct Moved<'a> {
    pub(crate) base: &'a dyn Values,
    pub(crate) moved: Vec<(&'a str, Value)>,
}

impl Values for Moved<'_> {
    fn value_of(&self, name: &str) -> Option<&Value> {
        let moved = self.moved.iter().find(|(own, _)| *own == name);
        moved.map(|(_, value)| value).or_else(|| self.base.value_of(name))
    }
}

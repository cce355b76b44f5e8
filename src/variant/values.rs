//! What names stand for in one student's formulas. In: printed quantities and readings. Out: values in SI.
//! A value must come from what is printed, never from the true state behind it.

use std::collections::HashMap;

use serde::{Deserialize, Serialize};

use super::Variant;
use crate::{
    experiment::Experiment,
    formula::{Value, Values},
};

/// Values in SI by name.
#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize)]
pub struct Known(HashMap<String, Value>);

impl Known {
    /// The values of everything that is printed for a student, and of drawn quantities that are not.
    pub fn of(experiment: &Experiment, variant: &Variant) -> Self {
        let mut known = HashMap::new();
        for stated in variant.drawn.iter().chain(&variant.told) {
            known.insert(stated.id.clone(), Value::scalar(stated.unit.to_si(stated.value)));
        }
        let schedule = &experiment.schedule;
        let units = std::iter::once((&schedule.id, &schedule.unit));
        for (id, unit) in units.chain(experiment.columns.iter().map(|column| (&column.id, &column.unit))) {
            if let Some(column) = variant.table.column(id) {
                let values = column.values.iter().map(|&value| unit.to_si(value)).collect();
                known.insert(id.clone(), Value::column(values));
            }
        }
        Self(known)
    }

    /// Adds an answer that later formulas may use.
    pub fn add(&mut self, name: &str, value: Value) {
        self.0.insert(name.to_owned(), value);
    }
}

impl Values for Known {
    fn value_of(&self, name: &str) -> Option<&Value> {
        self.0.get(name)
    }
}

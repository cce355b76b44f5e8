//! What a sheet accepts. In: its key. Out: marks that another's answers earn on it. It must grant no follow-through:
//! it asks what answers are worth that were right elsewhere.

use super::{Offer, offer::numeric};
use crate::{class::Edition, experiment::Experiment, key::Key};

/// The numeric tasks of a sheet with their ranges.
#[derive(Debug, Clone, PartialEq)]
pub struct Expected {
    /// In the tasks' order.
    pub numbers: Vec<ExpectedNumber>,
    /// What the sheet's own right answers are.
    pub offer: Offer,
}

/// A numeric task of a sheet.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ExpectedNumber {
    /// The task's place in the file.
    pub task: usize,
    /// What it is worth.
    pub marks: u32,
    /// The accepted range, ends included, in the task's unit.
    pub accept: (f64, f64),
}

impl Expected {
    /// What a student's sheet of an edition accepts.
    pub fn of(experiment: &Experiment, edition: Edition, key: &Key) -> Self {
        let definition = &experiment.definition;
        let numbers = numeric(experiment, edition).map(|(task, _, _)| match key.number(task) {
            Some(number) => {
                let marks = definition.tasks[task].marks.total();
                ExpectedNumber { task, marks, accept: (number.accept.0.value, number.accept.1.value) }
            }
            // A task that a real run can't answer accepts nothing and earns nothing.
            None => ExpectedNumber { task, marks: 0, accept: (f64::NAN, f64::NAN) },
        });
        Self { numbers: numbers.collect(), offer: Offer::of(experiment, edition, &key.known) }
    }

    /// The marks of all numeric tasks.
    pub fn marks(&self) -> u32 {
        self.numbers.iter().map(|number| number.marks).sum()
    }

    /// The marks that another sheet's right answers earn on this one. Both must be of one edition of one experiment.
    pub fn earned_with(&self, other: &Offer) -> u32 {
        self.accepted(other).map(|number| number.marks).sum()
    }

    /// The tasks in which another sheet's right answers are accepted on this one.
    pub fn accepted<'a>(&'a self, other: &'a Offer) -> impl Iterator<Item = &'a ExpectedNumber> {
        let pairs = self.numbers.iter().zip(&other.numbers);
        pairs.filter(|(own, (full, printed))| own.holds(*full) || own.holds(*printed)).map(|(own, _)| own)
    }
}

impl ExpectedNumber {
    fn holds(&self, number: f64) -> bool {
        (self.accept.0..=self.accept.1).contains(&number)
    }
}

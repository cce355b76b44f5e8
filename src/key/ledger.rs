//! What every answer so far may be off by. In: errors as they arise. Out: deviations by name. It must forget no error:
//! later answers share it.

use super::{Cause, Contribution};
use crate::uncertainty::{Deviation, Distribution, Errors, Input};

/// The errors of one key with their causes, and the deviations of names.
#[derive(Debug, Default)]
pub(super) struct Ledger {
    pub(super) errors: Errors,
    causes: Vec<Cause>,
    /// Readings as they are plotted: they deviate where an answer is taken from the graph or a fit.
    readings: Vec<Input>,
    /// Earlier answers: they deviate wherever they are used.
    answers: Vec<Input>,
}

impl Ledger {
    /// A new error of a cause, as a deviation with factor 1.
    pub(super) fn error(&mut self, cause: Cause, distribution: Distribution) -> Deviation {
        self.causes.push(cause);
        Deviation::of(self.errors.add(distribution), 1.0)
    }

    pub(super) fn add_reading(&mut self, column: &str, row: usize, standard: f64) {
        let deviation = self.error(Cause::Readings(column.to_owned()), Distribution::Normal(standard));
        self.readings.push(Input { name: column.to_owned(), row: Some(row), deviation });
    }

    pub(super) fn add_answer(&mut self, name: &str, row: Option<usize>, deviation: Deviation) {
        self.answers.push(Input { name: name.to_owned(), row, deviation });
    }

    /// What may be off where a name is used; readings only where they are `plotted`.
    pub(super) fn inputs<'a>(&'a self, name: &'a str, plotted: bool) -> impl Iterator<Item = &'a Input> {
        let readings = self.readings.iter().filter(move |_| plotted);
        readings.chain(&self.answers).filter(move |input| input.name == name)
    }

    /// How far the student's own roundings move a deviation at their worst.
    pub(super) fn rounding(&self, deviation: &Deviation) -> f64 {
        deviation.worst(&self.errors, |error| matches!(self.causes[error], Cause::Rounding(_)))
    }

    /// The contributions to a deviation by cause, divided by `scale`.
    pub(super) fn contributions(&self, deviation: &Deviation, scale: f64) -> Vec<Contribution> {
        let mut found: Vec<(&Cause, f64)> = Vec::new();
        for ((error, distribution), cause) in self.errors.iter().zip(&self.causes) {
            let part = deviation.coefficient(error) * distribution.standard();
            match found.iter_mut().find(|(own, _)| *own == cause) {
                Some((_, variance)) => *variance += part * part,
                None => found.push((cause, part * part)),
            }
        }
        let total: f64 = found.iter().map(|(_, variance)| variance).sum();
        found.retain(|(_, variance)| *variance > 0.0);
        found.sort_by(|(_, one), (_, other)| other.total_cmp(one));
        let contribution = |(cause, variance): (&Cause, f64)| Contribution {
            cause: cause.clone(),
            standard: libm::sqrt(variance) / scale,
            share: variance / total,
        };
        found.into_iter().map(contribution).collect()
    }
}

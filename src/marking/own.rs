//! What follows from a student's own answers. In: a sheet's printed values and the answers typed in. Out: what each later task
//! gives with them. It must use nothing that the student could not see.

use super::entry::{Entry, Typed};
use crate::{
    experiment::{
        Experiment,
        plan::{NumberPlan, TaskBody},
    },
    formula::{self, Value},
    variant::{Known, Variant},
};

/// The values a student goes on with: what is printed, their own answers, and for a task without one what follows from these.
pub(super) struct OwnWorld {
    known: Known,
    /// Half a unit of the last place of each own answer, in SI.
    halves: Vec<(String, f64, f64)>,
}

impl OwnWorld {
    /// Before the first task.
    pub(super) fn new(experiment: &Experiment, variant: &Variant) -> Self {
        Self { known: Known::of(experiment, variant), halves: Vec::new() }
    }

    /// What a task gives from own earlier answers, in SI, and by how much the rounding of these may move it.
    pub(super) fn expected(&self, plan: &NumberPlan) -> Option<(f64, f64)> {
        let value = formula::evaluate(&plan.formula, &self.known).ok()?.number();
        let mut allowance = 0.0;
        plan.formula.names(&mut |name, _| {
            let Some((id, own, half)) = self.halves.iter().find(|(id, ..)| id == name) else { return };
            let mut moved = self.known.clone();
            moved.add(id, Value::scalar(own + half));
            if let Ok(other) = formula::evaluate(&plan.formula, &moved) {
                allowance += (other.number() - value).abs();
            }
        });
        value.is_finite().then_some((value, allowance))
    }

    /// What a listed slip gives from own earlier answers, in SI.
    pub(super) fn slip(&self, plan: &NumberPlan, place: usize) -> Option<f64> {
        let value = formula::evaluate(plan.slips.get(place)?, &self.known).ok()?.number();
        value.is_finite().then_some(value)
    }

    /// Goes on behind a task: with the own answer, in SI, else with what the task gives from those before.
    pub(super) fn go_on(&mut self, id: &str, body: &TaskBody, own: Option<(f64, f64)>) {
        let (TaskBody::Number(plan) | TaskBody::Column(plan)) = body else { return };
        match own {
            Some((value, half)) => {
                self.known.add(id, Value::scalar(value));
                self.halves.push((id.to_owned(), value, half));
            }
            None => {
                if let Ok(value) = formula::evaluate(&plan.formula, &self.known) {
                    self.known.add(id, value);
                }
            }
        }
    }
}

/// The number of an entry, if it is one.
pub(super) fn typed(entry: &Entry) -> Option<&Typed> {
    if let Entry::Number(typed) = entry { Some(typed) } else { None }
}

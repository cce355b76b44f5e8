//! What a right sheet offers to copy. In: values of all names. Out: a number for each numeric task of an edition.
//! It must know no accepted range: it serves to turn a draw down before its ranges are computed.

use crate::{
    class::Edition,
    experiment::{
        Experiment,
        plan::{NumberPlan, TaskBody},
    },
    formula::{Value, Values},
};

/// The right answers to the numeric tasks of an edition, each in the task's unit, in the tasks' order.
#[derive(Debug, Clone, PartialEq)]
pub struct Offer {
    /// Full value and printed value.
    pub(super) numbers: Vec<(f64, f64)>,
}

impl Offer {
    /// The answers to an edition's numeric tasks; `known` must hold every answer by its task's id.
    pub fn of(experiment: &Experiment, edition: Edition, known: &impl Values) -> Self {
        let number = |(_, id, plan): (usize, &str, &NumberPlan)| {
            let value = plan.unit.from_si(known.value_of(id).map_or(f64::NAN, Value::number));
            (value, plan.form.round(value).value)
        };
        Self { numbers: numeric(experiment, edition).map(number).collect() }
    }

    /// What a sheet would offer whose answers are guessed: in SI, by the place of a task in the file.
    pub fn guessed(experiment: &Experiment, edition: Edition, answer: impl Fn(usize) -> f64) -> Self {
        let number = |(task, _, plan): (usize, &str, &NumberPlan)| {
            let value = plan.unit.from_si(answer(task));
            (value, value)
        };
        Self { numbers: numeric(experiment, edition).map(number).collect() }
    }
}

/// The numeric tasks of an edition: place in the file, id, plan.
pub(super) fn numeric(experiment: &Experiment, edition: Edition) -> impl Iterator<Item = (usize, &str, &NumberPlan)> {
    experiment.tasks_of(edition).filter_map(|(index, task)| match &task.body {
        TaskBody::Number(plan) => Some((index, task.id.as_str(), plan)),
        TaskBody::Column(_) | TaskBody::Graph(_) | TaskBody::Text => None,
    })
}

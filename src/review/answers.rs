//! Answers that hardly vary, and those that can not be computed. In: a sample of keys. Out: warnings.
//! It must not ask how a range came about.

use super::{Reviewer, sample::Sample};
use crate::{
    experiment::plan::TaskBody,
    key::{Key, slip_warnings},
    report::Problem,
};

/// The share of neighbours whose answer may count as one's own before it is said, in per cent.
const MOST_SHARED: usize = 50;

impl Reviewer<'_> {
    pub(super) fn answers(&mut self, sample: &Sample) {
        if let Some(error) = &sample.failure {
            let index = self.experiment.task_index(&error.task).unwrap_or_default();
            let kind = if self.experiment.definition.tasks[index].column.is_some() { "column" } else { "number" };
            let problem = Problem::error(format!("the task `{}` has no answer: {}", error.task, error.why))
                .at(self.places.value(format!("/tasks/{index}/{kind}/formula")))
                .label("has no value for some students")
                .hint("change the formula, or add a condition that keeps such readings out");
            self.problems.push(problem);
            return;
        }
        self.problems.extend(slip_warnings(self.experiment, &self.places, &sample.keys));
        let mut said: Vec<&str> = Vec::new();
        for (index, task) in self.experiment.definition.tasks.iter().enumerate() {
            let Some(number) = &task.number else { continue };
            let Some(shared) = shared(&sample.keys, index) else { continue };
            // What is calculated from an answer that hardly varies is not blamed.
            let mut follows = false;
            if let TaskBody::Number(plan) = &self.experiment.tasks[index].body {
                plan.formula.names(&mut |name, _| follows |= said.contains(&name));
            }
            if shared > MOST_SHARED {
                said.push(&task.id);
            }
            if shared > MOST_SHARED && !follows {
                let message = format!("the answer of `{}` hardly varies between students", task.id);
                let problem = Problem::warning(message)
                    .at(self.places.value(format!("/tasks/{index}/number/formula")))
                    .label(format!("a neighbour's answer counts in {shared} % of pairs"))
                    .hint(format!(
                        "use quantities that vary more, widen the ranges under `drawn`, or ask for more figures than \
                         {}",
                        match (number.figures, number.places) {
                            (Some(figures), _) => format!("`figures: {figures}`"),
                            (_, places) => format!("`places: {}`", places.unwrap_or_default()),
                        }
                    ));
                self.problems.push(problem);
            }
        }
    }
}

/// The pairs of students, in per cent, of whom the first one's printed answer lies in the other's accepted range.
fn shared(keys: &[Key], task: usize) -> Option<usize> {
    let numbers: Vec<_> = keys.iter().filter_map(|key| key.number(task)).collect();
    let pairs = numbers.len() * numbers.len().checked_sub(1)?;
    let counts = |one: usize, other: usize| {
        let printed: Option<f64> = numbers[one].text.parse().ok();
        let (low, high) = &numbers[other].accept;
        one != other && printed.is_some_and(|printed| (low.value..=high.value).contains(&printed))
    };
    let all = 0..numbers.len();
    let shared = all.clone().flat_map(|one| all.clone().map(move |other| (one, other)));
    let shared = shared.filter(|&(one, other)| counts(one, other)).count();
    (pairs > 0).then(|| shared * 100 / pairs)
}

//! Tasks that are harder for one student than for another. In: a sample of keys with their readings. Out: warnings.
//! It must know no bound of its own.

use super::{Reviewer, sample::Sample};
use crate::{
    audit::{Aspect, Measure, Measured, measures},
    graph::GraphPaper,
    quantity::rounding,
    report::Problem,
};

/// Students that are measured: enough to see a spread.
const STUDENTS: usize = 24;

impl Reviewer<'_> {
    pub(super) fn fairness(&mut self, sample: &Sample) {
        let sheets: Vec<Measured<'_>> = sample
            .variants
            .iter()
            .zip(&sample.keys)
            .take(STUDENTS)
            .map(|(variant, key)| Measured { variant, key, paper: GraphPaper::of(false) })
            .collect();
        for (index, found) in measures(self.experiment, None, &sheets) {
            for measure in found.iter().filter(|measure| !measure.holds) {
                let task = &self.experiment.definition.tasks[index].id;
                let (what, name) = words(measure);
                let problem = Problem::warning(format!("the task `{task}` is not equally hard for all students"))
                    .at(self.places.value(format!("/tasks/{index}/number/formula")))
                    .label(what)
                    .hint(format!(
                        "keep such readings out by a condition or narrower ranges, or set another bound with `fairness: \
                         {{{name}: ...}}` in the task"
                    ));
                self.problems.push(problem);
            }
        }
    }
}

/// What is out of bounds, and the bound's name.
fn words(measure: &Measure) -> (String, &'static str) {
    let number = |value: f64| rounding::plain(rounding::to_figures(value, 2).value);
    let (least, most, bound) = (number(measure.least), number(measure.most), number(measure.bound));
    let times = number(measure.most / measure.least);
    match measure.aspect {
        Aspect::Figures => (format!("its answers have {least} to {most} figures"), "figures"),
        Aspect::Size => (format!("the largest answer is {times} times the smallest; at most {bound}"), "size"),
        Aspect::Graph => (format!("data use {least} of the graph paper; at least {bound}"), "graph"),
        Aspect::Rows => (format!("it takes {least} rows of some, {most} of others; at most {bound} times"), "rows"),
        Aspect::Signal => (format!("the answer is {least} times its noise; at least {bound}"), "signal"),
    }
}

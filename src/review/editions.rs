//! Editions that lack something. In: an experiment. Out: warnings. It must not judge how hard a task is.

use super::Reviewer;
use crate::{
    class::Edition,
    experiment::plan::{GraphPlan, TaskBody, TaskPlan},
    report::Problem,
};

impl Reviewer<'_> {
    pub(super) fn editions(&mut self) {
        for edition in Edition::ALL {
            if self.experiment.tasks_of(edition).next().is_none() {
                let word = edition.word();
                let hint = format!("add `{word}` to the `editions` of some task, or leave `editions` out");
                self.warn("/tasks", format!("the edition `{word}` has no tasks"), "none for this edition", &hint);
            }
        }
        for (index, task) in self.experiment.tasks.iter().enumerate() {
            self.earlier_answers(index, task);
        }
    }

    /// A computed column that a graph shows must be asked for wherever the graph is.
    fn plotted_answers(&mut self, index: usize, task: &TaskPlan, graph: &GraphPlan) {
        let also = graph.also.iter().enumerate().map(|(index, name)| (format!("also/{index}"), name));
        for (axis, name) in [("x".to_owned(), &graph.x), ("y".to_owned(), &graph.y)].into_iter().chain(also) {
            let Some(column) = self.experiment.tasks.iter().find(|column| column.id == *name) else { continue };
            let lacking = task.editions.iter().find(|edition| !column.editions.contains(edition));
            if let Some(edition) = lacking.map(|edition| edition.word()) {
                self.warn(
                    &format!("/tasks/{index}/graph/{axis}"),
                    format!("the edition `{edition}` does not ask for `{name}`"),
                    &format!("not known in `{edition}`"),
                    &format!("add `{edition}` to the `editions` of `{name}`, or take this task out of it"),
                );
            }
        }
    }

    /// An answer that a formula uses must be asked for wherever the formula is.
    fn earlier_answers(&mut self, index: usize, task: &TaskPlan) {
        let (kind, plan) = match &task.body {
            TaskBody::Number(plan) => ("number", plan),
            TaskBody::Column(plan) => ("column", plan),
            TaskBody::Graph(graph) => return self.plotted_answers(index, task, graph),
            TaskBody::Text => return,
        };
        let mut lacking = Vec::new();
        plan.formula.names(&mut |name, span| {
            let earlier = self.experiment.tasks.iter().find(|earlier| earlier.id == name);
            let missing = earlier.and_then(|earlier| {
                task.editions.iter().find(|edition| !earlier.editions.contains(edition)).map(|edition| edition.word())
            });
            lacking.extend(missing.map(|edition| (name.to_owned(), span.clone(), edition)));
        });
        for (name, span, edition) in lacking {
            let problem = Problem::warning(format!("the edition `{edition}` does not ask for `{name}`"))
                .at(self.places.inside(format!("/tasks/{index}/{kind}/formula"), &span))
                .label(format!("not known in `{edition}`"))
                .hint(format!("add `{edition}` to the `editions` of `{name}`, or take this task out of it"));
            self.problems.push(problem);
        }
    }
}

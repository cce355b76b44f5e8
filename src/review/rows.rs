//! Readings picked at places where no row is. In: formulas and the schedule. Out: warnings. It must read nothing.

use std::ops::Range;

use super::Reviewer;
use crate::{
    experiment::plan::TaskBody,
    formula::{Node, NodeKind, functions::nearest_row},
    quantity::rounding,
    report::Problem,
};

/// The part of a step by which a place may miss its row.
const NEAR: f64 = 1e-6;

impl Reviewer<'_> {
    pub(super) fn rows(&mut self) {
        let experiment = self.experiment;
        let tasks = experiment.tasks.iter().enumerate().filter_map(|(index, task)| match &task.body {
            TaskBody::Number(plan) => Some((format!("/tasks/{index}/number/formula"), &plan.formula)),
            TaskBody::Column(plan) => Some((format!("/tasks/{index}/column/formula"), &plan.formula)),
            TaskBody::Graph(_) | TaskBody::Text => None,
        });
        let conditions = experiment.conditions.iter().enumerate();
        let conditions = conditions.map(|(index, condition)| (format!("/conditions/{index}/holds"), condition));
        for (pointer, formula) in tasks.chain(conditions).collect::<Vec<_>>() {
            let mut found = Vec::new();
            self.between_rows(formula, &mut found);
            for (span, nearest) in found {
                let problem = Problem::warning("no row of the table is here".to_owned())
                    .at(self.places.inside(&*pointer, &span))
                    .label(format!("the nearest row is {nearest}"))
                    .hint(format!("write `{nearest}`, or read between rows with `interpolate`"));
                self.problems.push(problem);
            }
        }
    }

    fn between_rows(&self, node: &Node, found: &mut Vec<(Range<usize>, String)>) {
        match &node.kind {
            NodeKind::Call(function, arguments) => {
                arguments.iter().for_each(|argument| self.between_rows(argument, found));
                if let ("at", [_, column, place]) = (function.name, arguments.as_slice())
                    && let (NodeKind::Name(name), NodeKind::Number(wanted)) = (&column.kind, &place.kind)
                    && *name == self.experiment.schedule.id
                {
                    let schedule = &self.experiment.schedule;
                    let rows: Vec<f64> = (0..schedule.values.count).map(|row| schedule.values.value(row)).collect();
                    let wanted = schedule.unit.from_si(wanted.si());
                    let nearest = nearest_row(&rows, wanted).map(|row| rows[row]);
                    if let Some(nearest) = nearest.filter(|row| (row - wanted).abs() > NEAR * schedule.values.step) {
                        let text = rounding::to_places(nearest, schedule.values.places).text;
                        found.push((place.span.clone(), format!("{text} {}", schedule.unit.print())));
                    }
                }
            }
            NodeKind::Negative(inner) => self.between_rows(inner, found),
            NodeKind::Binary(_, left, right) | NodeKind::Compare(_, left, right) => {
                self.between_rows(left, found);
                self.between_rows(right, found);
            }
            NodeKind::Number(_) | NodeKind::Name(_) => {}
        }
    }
}

//! Quantities that nothing uses, and symbols that mean two things. In: an experiment. Out: warnings.
//! It must not look at numbers.

use std::collections::{BTreeMap, BTreeSet};

use super::Reviewer;
use crate::{
    experiment::{
        escape,
        plan::{ReadQuantity, TaskBody},
        prose::{self, Piece},
    },
    formula::Symbol,
    report::Problem,
};

impl Reviewer<'_> {
    pub(super) fn uses(&mut self) {
        let used = self.used();
        let experiment = self.experiment;
        let told = experiment.drawn.iter().filter(|drawn| drawn.told).map(|drawn| ("drawn", &drawn.id));
        let given = experiment.given.iter().map(|given| ("given", &given.id));
        for (part, id) in told.chain(given).filter(|(_, id)| !used.contains(*id)) {
            let message = format!("no task uses `{id}`, which students are told");
            let hint = match part {
                "drawn" => format!("use it in a formula or a text, such as `{{={id}}}`, or set `told: false`"),
                _ => format!("use it in a formula or a text, such as `{{={id}}}`, or move it to `settings`"),
            };
            self.warn(&format!("/{part}/{}", escape(id)), message, "never used", &hint);
        }
        for (part, read) in [("table", &experiment.columns), ("once", &experiment.once)] {
            for ReadQuantity { id, .. } in read.iter().filter(|read| !used.contains(&read.id)) {
                let hint = "use it in a formula, a graph or a text, or delete it";
                let message = format!("no task uses the reading `{id}`");
                self.warn(&format!("/readings/{part}/{}", escape(id)), message, "never used", hint);
            }
        }
        let read_with: BTreeSet<&str> =
            experiment.columns.iter().chain(&experiment.once).map(|read| read.instrument_name.as_str()).collect();
        for id in experiment.definition.instruments.keys().filter(|id| !read_with.contains(id.as_str())) {
            let message = format!("nothing is read with the instrument `{id}`");
            let hint = "name it after `with` in a reading, or delete it";
            self.warn(&format!("/instruments/{}", escape(id)), message, "never used", hint);
        }
    }

    /// All names in formulas, graphs and texts.
    fn used(&self) -> BTreeSet<String> {
        let mut used = BTreeSet::new();
        let mut note = |name: &str| {
            used.insert(name.to_owned());
        };
        for task in &self.experiment.tasks {
            match &task.body {
                TaskBody::Number(plan) | TaskBody::Column(plan) => {
                    plan.formula.names(&mut |name, _| note(name));
                }
                TaskBody::Graph(graph) => graph.heights().chain([graph.x.as_str()]).for_each(&mut note),
                TaskBody::Text => {}
            }
        }
        for condition in &self.experiment.conditions {
            condition.names(&mut |name, _| note(name));
        }
        for (_, text) in self.experiment.definition.texts() {
            for piece in text.entries().filter_map(|(_, words)| prose::split(words).ok()).flatten() {
                if let Piece::Symbol(name, _) | Piece::Value(name, _) = piece {
                    note(name);
                }
            }
        }
        used
    }

    /// Two printed quantities with one symbol.
    pub(super) fn symbols(&mut self) {
        let experiment = self.experiment;
        let mut all: Vec<(String, &Symbol)> =
            vec![("/readings/schedule/symbol".to_owned(), &experiment.schedule.symbol)];
        let told = experiment.drawn.iter().filter(|drawn| drawn.told);
        all.extend(told.map(|drawn| (format!("/drawn/{}/symbol", escape(&drawn.id)), &drawn.symbol)));
        all.extend(
            experiment.given.iter().map(|given| (format!("/given/{}/symbol", escape(&given.id)), &given.symbol)),
        );
        for (part, read) in [("table", &experiment.columns), ("once", &experiment.once)] {
            let symbols =
                read.iter().map(|read| (format!("/readings/{part}/{}/symbol", escape(&read.id)), &read.symbol));
            all.extend(symbols);
        }
        for (index, task) in experiment.tasks.iter().enumerate() {
            match &task.body {
                TaskBody::Number(plan) => all.push((format!("/tasks/{index}/number/symbol"), &plan.symbol)),
                TaskBody::Column(plan) => all.push((format!("/tasks/{index}/column/symbol"), &plan.symbol)),
                TaskBody::Graph(_) | TaskBody::Text => {}
            }
        }
        let mut first: BTreeMap<String, String> = BTreeMap::new();
        for (pointer, symbol) in all {
            let plain = symbol.plain();
            if let Some(before) = first.get(&plain) {
                let problem = Problem::warning(format!("the symbol `{plain}` stands for two quantities"))
                    .at(self.places.value(&*pointer))
                    .label("again")
                    .also(self.places.value(&**before), "first time")
                    .hint("give one of them another letter or an index");
                self.problems.push(problem);
            } else {
                first.insert(plain, pointer);
            }
        }
    }
}

//! Graph tasks: axes and levels. In: a task and the known names. Out: a checked graph. Nothing is drawn here.

use super::{Checker, Definition, Names};
use crate::{
    experiment::{
        definition::GraphTask,
        plan::{GraphPlan, TaskBody},
    },
    formula::{Absence, Scope},
    quantity::Unit,
    report::{Problem, nearest},
};

impl Checker<'_> {
    pub(super) fn graph(
        &mut self,
        pointer: &str,
        graph: &GraphTask,
        definition: &Definition,
        names: &Names,
    ) -> Option<TaskBody> {
        let readings = &definition.readings;
        let table = readings.table.keys().map(String::as_str);
        let computed = definition.tasks.iter().filter(|task| task.column.is_some() && names.knows(&task.id));
        let known: Vec<&str> = std::iter::once(readings.schedule.column.as_str())
            .chain(table)
            .chain(computed.map(|task| task.id.as_str()))
            .collect();
        let mut sound = true;
        let also = graph.also.iter().enumerate().map(|(index, name)| (format!("also/{index}"), name));
        for (field, name) in [("x".to_owned(), &graph.x), ("y".to_owned(), &graph.y)].into_iter().chain(also) {
            if known.contains(&name.as_str()) {
                continue;
            }
            sound = false;
            if names.absence(name) == Absence::Faulty {
                continue;
            }
            let near = nearest(name, known.iter().copied());
            let hint = near.map_or_else(
                || format!("a graph shows columns of the table: {}", known.join(", ")),
                |near| format!("did you mean `{near}`?"),
            );
            let message = format!("`{name}` is no column of the table");
            self.error(&format!("{pointer}/{field}"), message, "no such column", Some(hint));
        }
        if sound && graph.x == graph.y {
            let problem = Problem::error(format!("both axes show `{}`", graph.y))
                .at(self.places.value(format!("{pointer}/y")))
                .label("again")
                .also(self.places.value(format!("{pointer}/x")), "already here")
                .hint("put the varied quantity on `x` and the reading on `y`");
            self.problems.push(problem);
            sound = false;
        }
        sound &= self.further_columns(pointer, graph, names);
        let (x, y) = (graph.x.clone(), graph.y.clone());
        let (also, levels) = (graph.also.clone(), graph.levels.clone());
        sound.then_some(TaskBody::Graph(GraphPlan { x, y, also, from_zero: graph.from_zero, levels }))
    }

    /// Columns on one axis are of one kind, and each is drawn once.
    fn further_columns(&mut self, pointer: &str, graph: &GraphTask, names: &Names) -> bool {
        let mut sound = true;
        for (index, name) in graph.also.iter().enumerate() {
            let place = format!("{pointer}/also/{index}");
            let drawn = [&graph.x, &graph.y].into_iter().chain(&graph.also[..index]).any(|drawn| drawn == name);
            if drawn {
                let hint = Some("leave it out: each column is drawn once".to_owned());
                self.error(&place, format!("the graph shows `{name}` twice"), "again", hint);
                sound = false;
            } else if let (Some(own), Some(axis)) = (names.type_of(name), names.type_of(&graph.y))
                && (own.dimension, own.kind) != (axis.dimension, axis.kind)
            {
                let hint = Some(format!("the axis shows `{}`; plot `{name}` in a graph of its own", graph.y));
                self.error(&place, format!("`{name}` is {}", own.words()), &format!("expected {}", axis.words()), hint);
                sound = false;
            }
        }
        sound
    }

    /// Levels are answers of the kind that the vertical axis shows; they may be asked for later.
    pub(super) fn levels(&mut self, pointer: &str, graph: &GraphTask, definition: &Definition, names: &Names) {
        let numbers: Vec<&str> =
            definition.tasks.iter().filter(|task| task.number.is_some()).map(|task| task.id.as_str()).collect();
        for (index, level) in graph.levels.iter().enumerate() {
            let place = format!("{pointer}/{index}");
            let task = definition.tasks.iter().find(|task| task.id == *level);
            let number = task.and_then(|task| task.number.as_ref());
            let (Some(number), Some(axis)) = (number, names.type_of(&graph.y)) else {
                if task.is_some() && number.is_none() {
                    let hint = Some(format!("tasks with a number are {}", numbers.join(", ")));
                    self.error(&place, format!("the task `{level}` has no number"), "not a level", hint);
                } else if task.is_none() {
                    self.unknown(&place, "task", level, &numbers);
                }
                continue;
            };
            let Ok(unit) = Unit::parse(&number.unit) else { continue };
            let computed = definition.tasks.iter().any(|task| task.id == graph.y && task.column.is_some());
            let on_axis = graph.x != graph.y && (computed || definition.readings.table.contains_key(&graph.y));
            if !on_axis || names.absence(level) == Absence::Faulty {
                continue;
            }
            if unit.dimension() != axis.dimension || unit.kind() != axis.kind {
                let hint = Some(format!("a level is marked on the axis of `{}`", graph.y));
                let message = format!("the answer of `{level}` is {}", super::measure(&unit));
                self.error(&place, message, &format!("expected {}", axis.words()), hint);
            }
        }
    }
}

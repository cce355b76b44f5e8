//! Marks of a task: each must be there to be earned. In: a task. Out: problems. It must not weigh marks.

use super::Checker;
use crate::experiment::definition::{Marks, Task};

impl Checker<'_> {
    pub(super) fn marks(&mut self, pointer: &str, task: &Task) {
        let Marks { method, accuracy, unit, points } = task.marks;
        let place = format!("{pointer}/marks");
        if task.marks.total() == 0 {
            let hint = Some("give `method`, `accuracy`, `unit` or `points`".to_owned());
            self.error(&place, format!("the task `{}` earns no marks", task.id), "no marks", hint);
            return;
        }
        let graph = task.graph.as_ref().map(|graph| graph.ticks.len());
        let ticks = graph.or_else(|| task.text.as_ref().map(|text| text.ticks.len()));
        if let Some(ticks) = ticks {
            if ticks != points as usize {
                let plural = |count: u64, one: &str| format!("{count} {one}{}", if count == 1 { "" } else { "s" });
                let (ticks_words, points_words) = (plural(ticks as u64, "tick"), plural(u64::from(points), "point"));
                let message = format!("the task has {ticks_words}, but {points_words}");
                let hint = Some(format!("a tick earns one point: write `points: {ticks}`, or change the ticks"));
                self.error(&place, message, "marks do not add up", hint);
            }
            for (name, _) in [("method", method), ("accuracy", accuracy), ("unit", unit)].iter().filter(|one| one.1 > 0)
            {
                let hint = "a graph or a text earns `points` by its ticks";
                self.idle(&format!("{place}/{name}"), name, "nothing here is calculated", hint);
            }
            return;
        }
        if task.number.is_none() && task.column.is_none() {
            return;
        }
        if points > 0 {
            let hint = "a number or a column earns `method`, `accuracy` and `unit`";
            self.idle(&format!("{place}/points"), "points", "there are no ticks", hint);
        }
        if accuracy == 0 {
            let hint = "add `accuracy: 1`, or ask for words in place of a number";
            self.warning(&place, "no mark is for the right value", "no `accuracy`", hint);
        }
        let no_unit = match (&task.number, &task.column) {
            (Some(number), _) => number.unit.trim().is_empty() || number.unit.trim() == "1",
            (None, column) => column.is_some(),
        };
        if unit > 0 && no_unit {
            let label =
                if task.column.is_some() { "a column has its unit in its head" } else { "the answer has no unit" };
            self.idle(&format!("{place}/unit"), "unit", label, "delete it, and raise another mark if need be");
        }
    }

    /// Marks that nobody can earn.
    fn idle(&mut self, pointer: &str, name: &str, label: &str, hint: &str) {
        self.warning(pointer, format!("the `{name}` marks can not be earned"), label, hint);
    }
}

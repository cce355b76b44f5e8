//! Bounds on difficulty: each must be a number. In: a definition. Out: problems. What the schema bounds is checked already.

use super::Checker;
use crate::experiment::{Definition, Fairness};

impl Checker<'_> {
    pub(super) fn fairness(&mut self, definition: &Definition) {
        self.bounds("/fairness", definition.fairness);
        for (index, task) in definition.tasks.iter().enumerate() {
            let own = task.number.as_ref().and_then(|number| number.fairness);
            self.bounds(&format!("/tasks/{index}/number/fairness"), own);
        }
    }

    fn bounds(&mut self, pointer: &str, fairness: Option<Fairness>) {
        let Some(Fairness { size, graph, rows, signal, .. }) = fairness else { return };
        for (name, bound) in [("size", size), ("graph", graph), ("rows", rows), ("signal", signal)] {
            if bound.is_some_and(|bound| !bound.is_finite()) {
                let hint = Some("write a number, or leave the bound out for its default".to_owned());
                self.error(&format!("{pointer}/{name}"), format!("the bound `{name}` is no number"), "no number", hint);
            }
        }
    }
}

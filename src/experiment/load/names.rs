//! What names mean in formulas. In: quantities, readings and earlier answers. Out: a type for each name.
//! A task may use only what its student can see.

use indexmap::IndexMap;

use super::{Checker, Definition};
use crate::{
    experiment::{place::escape, plan::SchedulePlan},
    formula::{Scope, Shape, Type, is_name},
    quantity::Unit,
};

/// Names with their types.
#[derive(Debug, Clone, Default)]
pub(crate) struct Names {
    types: IndexMap<String, Type>,
    /// Drawn quantities that students are not told.
    hidden: Vec<String>,
}

impl Names {
    pub(super) fn add(&mut self, name: &str, found: Type) {
        self.types.insert(name.to_owned(), found);
    }

    pub(super) fn knows(&self, name: &str) -> bool {
        self.types.contains_key(name)
    }

    pub(super) fn is_hidden(&self, name: &str) -> bool {
        self.hidden.iter().any(|hidden| hidden == name)
    }
}

impl Scope for Names {
    fn type_of(&self, name: &str) -> Option<Type> {
        self.types.get(name).copied()
    }

    fn names(&self) -> Vec<&str> {
        self.types.keys().map(String::as_str).collect()
    }
}

fn type_of(unit: &Unit, shape: Shape) -> Type {
    Type { dimension: unit.dimension(), kind: unit.kind(), shape }
}

impl Checker<'_> {
    pub(super) fn gather_names(&mut self, definition: &Definition, schedule: Option<&SchedulePlan>, names: &mut Names) {
        for (id, given) in &definition.given {
            self.name(&format!("/given/{}", escape(id)), id, type_of(&given.value.unit, Shape::Scalar), names);
        }
        for (id, drawn) in &definition.drawn {
            self.name(&format!("/drawn/{}", escape(id)), id, type_of(&drawn.from.unit, Shape::Scalar), names);
            if !drawn.told {
                names.hidden.push(id.clone());
            }
        }
        let schedule_unit = schedule.map(|schedule| schedule.unit.clone());
        if let Some(unit) = schedule_unit {
            let id = &definition.readings.schedule.column;
            self.name("/readings/schedule/column", id, type_of(&unit, Shape::Column), names);
        }
        let table = definition.readings.table.iter().map(|entry| ("table", Shape::Column, entry));
        let once = definition.readings.once.iter().map(|entry| ("once", Shape::Scalar, entry));
        for (part, shape, (id, column)) in table.chain(once) {
            if let Ok(unit) = Unit::parse(&column.unit) {
                self.name(&format!("/readings/{part}/{}", escape(id)), id, type_of(&unit, shape), names);
            }
        }
    }

    /// Adds a name, if it is one and is free.
    pub(super) fn name(&mut self, pointer: &str, name: &str, found: Type, names: &mut Names) {
        if !is_name(name) {
            let hint = "use a letter, then letters, digits and underscores";
            let problem = crate::report::Problem::error(format!("`{name}` can not be used in formulas"));
            self.problems.push(problem.at(self.places.key(pointer)).label("not a name").hint(hint));
        } else if names.knows(name) {
            let problem = crate::report::Problem::error(format!("the name `{name}` is used twice"));
            let hint = "give quantities, readings and tasks names of their own";
            self.problems.push(problem.at(self.places.key(pointer)).label("used before").hint(hint));
        } else {
            names.add(name, found);
        }
    }
}

//! What names mean in formulas. In: quantities, readings and earlier answers. Out: a type for each name.
//! A task may use only what its student can see.

use std::collections::BTreeSet;

use indexmap::IndexMap;

use super::{Checker, Definition};
use crate::{
    experiment::place::escape,
    formula::{Absence, Scope, Shape, Type, is_name},
    quantity::Unit,
    report::{Place, Problem},
};

/// Names with their types.
#[derive(Debug, Clone, Default)]
pub(crate) struct Names {
    types: IndexMap<String, Type>,
    /// Drawn quantities that students are not told, with a reading that shows them.
    hidden: IndexMap<String, Option<String>>,
    /// Names whose own definition is at fault.
    faulty: BTreeSet<String>,
    /// Every task, with whether it is answered by numbers.
    tasks: IndexMap<String, bool>,
    /// The task whose formula is checked.
    own: String,
}

impl Names {
    pub(super) fn add(&mut self, name: &str, found: Type) {
        self.types.insert(name.to_owned(), found);
    }

    pub(super) fn knows(&self, name: &str) -> bool {
        self.types.contains_key(name)
    }

    pub(super) fn is_hidden(&self, name: &str) -> bool {
        self.hidden.contains_key(name)
    }

    /// How a drawn quantity that is not told gets onto the sheet.
    pub(super) fn untold(&self, name: &str) -> String {
        match self.hidden.get(name) {
            Some(Some(reading)) => format!("use the reading `{reading}`, or set `told: true` for `{name}`"),
            _ => format!("read it with an instrument under `once` and use that, or set `told: true` for `{name}`"),
        }
    }

    /// Names that a student's sheet shows.
    pub(super) fn shown(&self) -> Vec<&str> {
        self.names().into_iter().filter(|name| !self.is_hidden(name)).collect()
    }

    /// Notes that a name means something that cannot be told. What a formula takes it for is passed over as well: it
    /// reads `T-air` as two names.
    pub(super) fn spoil(&mut self, name: &str) {
        let parts = name.split(|sign: char| !(sign.is_alphanumeric() || sign == '_'));
        let whole = mended(name);
        self.faulty.extend(parts.chain([name, &whole]).filter(|part| !part.is_empty()).map(str::to_owned));
    }

    /// The task whose formula is checked.
    pub(super) fn own(&self) -> &str {
        &self.own
    }

    /// Begins the formula of a task.
    pub(super) fn begin(&mut self, task: &str) {
        task.clone_into(&mut self.own);
    }
}

impl Scope for Names {
    fn type_of(&self, name: &str) -> Option<Type> {
        self.types.get(name).copied()
    }

    fn absence(&self, name: &str) -> Absence {
        match self.tasks.get(name) {
            _ if self.faulty.contains(name) => Absence::Faulty,
            _ if name == self.own => Absence::Own,
            Some(true) => Absence::Later,
            Some(false) => Absence::Wordless,
            None => Absence::Unknown,
        }
    }

    fn names(&self) -> Vec<&str> {
        self.types.keys().map(String::as_str).collect()
    }
}

fn type_of(unit: &Unit, shape: Shape) -> Type {
    Type { dimension: unit.dimension(), kind: unit.kind(), shape }
}

impl Checker<'_> {
    pub(super) fn gather_names(&mut self, definition: &Definition, names: &mut Names) {
        names.faulty = std::mem::take(&mut self.faulty);
        names.tasks = definition
            .tasks
            .iter()
            .map(|task| (task.id.clone(), task.number.is_some() || task.column.is_some()))
            .collect();
        for (id, drawn) in &definition.drawn {
            self.name(&format!("/drawn/{}", escape(id)), id, Some(type_of(&drawn.from.unit, Shape::Scalar)), names);
            if !drawn.told {
                let input = drawn.sets.as_ref().unwrap_or(id);
                let reading = definition.readings.once.iter().find(|(_, column)| column.of == *input);
                names.hidden.insert(id.clone(), reading.map(|(reading, _)| reading.clone()));
            }
        }
        for (id, given) in &definition.given {
            self.name(&format!("/given/{}", escape(id)), id, Some(type_of(&given.value.unit, Shape::Scalar)), names);
        }
        let schedule = &definition.readings.schedule;
        let unit = |text: &str, shape| Unit::parse(text).ok().map(|unit| type_of(&unit, shape));
        self.name("/readings/schedule/column", &schedule.column, unit(&schedule.unit, Shape::Column), names);
        let table = definition.readings.table.iter().map(|entry| ("table", Shape::Column, entry));
        let once = definition.readings.once.iter().map(|entry| ("once", Shape::Scalar, entry));
        for (part, shape, (id, column)) in table.chain(once) {
            self.name(&format!("/readings/{part}/{}", escape(id)), id, unit(&column.unit, shape), names);
        }
    }

    /// Says that a name is taken.
    pub(super) fn used_twice(&mut self, pointer: &str, name: &str) {
        let problem = Problem::error(format!("the name `{name}` is used twice")).at(self.name_place(pointer));
        let hint = "give quantities, readings and tasks names of their own";
        self.problems.push(problem.label("used before").hint(hint));
    }

    /// The schedule's and the tasks' names are values, the others are keys.
    fn name_place(&self, pointer: &str) -> Place {
        if pointer.ends_with("/column") || pointer.ends_with("/id") {
            self.places.value(pointer)
        } else {
            self.places.key(pointer)
        }
    }

    /// Adds a name, if it is one and is free. A name without a type is known, but nothing is said of its uses.
    pub(super) fn name(&mut self, pointer: &str, name: &str, found: Option<Type>, names: &mut Names) {
        if !is_name(name) {
            let mended = mended(name);
            let hint = if is_name(&mended) {
                format!("use letters, digits and underscores, such as `{mended}`")
            } else {
                "use a letter, then letters, digits and underscores".to_owned()
            };
            let problem = Problem::error(format!("`{name}` can not be used in formulas"));
            self.problems.push(problem.at(self.name_place(pointer)).label("not a name").hint(hint));
            names.spoil(name);
        } else if names.knows(name) {
            self.used_twice(pointer, name);
        } else {
            match found.filter(|_| !names.faulty.contains(name)) {
                Some(found) => names.add(name, found),
                None => names.spoil(name),
            }
        }
    }
}

/// The name with underscores for what a name cannot hold.
pub(super) fn mended(name: &str) -> String {
    name.replace(|sign: char| !(sign.is_alphanumeric() || sign == '_'), "_")
}

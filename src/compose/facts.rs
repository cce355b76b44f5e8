//! What a reader sees of one student's data. In: experiment, variant, key, language. Out: symbols and printed numbers.
//! It must round nothing: every number was printed before.

use crate::{
    experiment::{
        Experiment,
        plan::{Form, NumberPlan, TaskBody},
    },
    formula::{
        self, Math, Node, NodeKind, Symbol,
        working::{Notes, Speech},
    },
    key::{Answer, Key, line_points},
    language::Language,
    quantity::{Quantity, Unit, rounding},
    variant::Variant,
};

/// One student's data in a reader's language.
#[derive(Clone, Copy)]
pub struct Facts<'a> {
    /// The experiment.
    pub experiment: &'a Experiment,
    /// The student's data.
    pub variant: &'a Variant,
    /// The student's key.
    pub key: &'a Key,
    /// The reader's language.
    pub language: &'a Language,
}

impl Facts<'_> {
    /// The symbol of a name.
    pub fn symbol_of(&self, name: &str) -> Option<&Symbol> {
        let experiment = self.experiment;
        if experiment.schedule.id == name {
            return Some(&experiment.schedule.symbol);
        }
        let drawn = experiment.drawn.iter().find(|drawn| drawn.id == name).map(|drawn| &drawn.symbol);
        let given = || experiment.given.iter().find(|given| given.id == name).map(|given| &given.symbol);
        let mut read = experiment.columns.iter().chain(&experiment.once);
        let task = || {
            experiment.tasks.iter().find(|task| task.id == name).and_then(|task| match &task.body {
                TaskBody::Number(plan) | TaskBody::Column(plan) => Some(&plan.symbol),
                _ => None,
            })
        };
        let read = read.find(|read| read.id == name).map(|read| &read.symbol);
        drawn.or_else(given).or(read).or_else(task)
    }

    /// A plain decimal text with a unit, as the language writes it.
    pub fn write(&self, plain: &str, unit: &Unit) -> String {
        self.language.notation.quantity(plain, unit)
    }

    /// The unit and decimals of a column, read or computed.
    pub(super) fn printed(&self, column: &str) -> Option<(&Unit, usize)> {
        if let Some(unit) = self.column_unit(column) {
            let texts = &self.variant.table.column(column)?.texts;
            return Some((unit, texts.iter().map(|text| rounding::places(text)).max()?));
        }
        let task = self.experiment.tasks.iter().find(|task| task.id == column)?;
        match &task.body {
            TaskBody::Column(NumberPlan { unit, form: Form::Places(places), .. }) => Some((unit, *places)),
            _ => None,
        }
    }

    fn column_unit(&self, column: &str) -> Option<&Unit> {
        self.experiment.column_unit(column)
    }
}

impl Notes for Facts<'_> {
    fn symbol(&self, name: &str) -> Option<Math> {
        self.symbol_of(name).map(Symbol::math)
    }

    fn number(&self, name: &str) -> Option<String> {
        if let Some(told) = self.variant.told.iter().find(|told| told.id == name) {
            return Some(self.write(&told.text, &told.unit));
        }
        let answer = self.key.number(self.experiment.task_index(name)?)?;
        Some(self.write(&answer.text, &answer.unit))
    }

    fn reading(&self, column: &str, row: usize) -> Option<String> {
        if let Some(read) = self.variant.table.column(column) {
            return Some(self.write(read.texts.get(row)?, self.column_unit(column)?));
        }
        let task = self.experiment.task_index(column)?;
        let (TaskBody::Column(plan), Answer::Column(cells)) =
            (&self.experiment.tasks[task].body, self.key.answers.get(task)?)
        else {
            return None;
        };
        Some(self.write(&cells.get(row)?.text, &plan.unit))
    }

    fn rows(&self, column: &str) -> usize {
        self.variant.table.column(column).map_or(0, |column| column.values.len())
    }

    fn row_name(&self, row: usize) -> Option<String> {
        self.reading(&self.experiment.schedule.id, row)
    }

    fn picked_row(&self, call: &Node) -> Option<usize> {
        let NodeKind::Call(function, arguments) = &call.kind else { return None };
        match function.name {
            "first" => Some(0),
            "last" => self.variant.table.rows().checked_sub(1),
            "at" => {
                let x = formula::evaluate(arguments.get(1)?, &self.key.known).ok()?;
                let wanted = formula::evaluate(arguments.get(2)?, &self.key.known).ok()?.number();
                formula::functions::nearest_row(x.data(), wanted)
            }
            "max" | "min" => {
                let column = formula::evaluate(arguments.first()?, &self.key.known).ok()?;
                let found = formula::evaluate(call, &self.key.known).ok()?.number();
                column.data().iter().position(|&reading| reading == found)
            }
            _ => None,
        }
    }

    fn used_rows(&self, call: &Node) -> Vec<usize> {
        let NodeKind::Call(_, arguments) = &call.kind else { return Vec::new() };
        let number = |node: &Node| formula::evaluate(node, &self.key.known).ok();
        let Some(x) = arguments.get(1).and_then(number) else { return Vec::new() };
        let ends: Vec<f64> = arguments[2..].iter().filter_map(number).map(|end| end.number()).collect();
        formula::functions::rows_within(x.data(), &ends)
    }

    fn line_points(&self, call: &Node) -> Option<[(String, String); 2]> {
        let NodeKind::Call(_, arguments) = &call.kind else { return None };
        let [NodeKind::Name(y), NodeKind::Name(x), ..] =
            arguments.iter().map(|node| &node.kind).collect::<Vec<_>>()[..]
        else {
            return None;
        };
        let ((y_unit, y_places), (x_unit, x_places)) = (self.printed(y)?, self.printed(x)?);
        let points = line_points(call, &self.key.known, (y_unit, y_places), (x_unit, x_places))?;
        Some(points.map(|(x, y)| (self.write(&x.text, x_unit), self.write(&y.text, y_unit))))
    }

    fn literal(&self, quantity: &Quantity) -> String {
        quantity.print(&self.language.notation)
    }

    fn speech(&self) -> &Speech {
        &self.language.speech
    }
}

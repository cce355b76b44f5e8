//! What is read or noted at a bench. In: an experiment. Out: a list of quantities with units, as a form heads its columns and a
//! file's heads are matched with. It must read nothing.

use super::number::in_unit;
use crate::{
    experiment::{Experiment, Text},
    formula::Symbol,
    quantity::{Quantity, Unit, rounding},
    variant::Stated,
};

/// What part a quantity has in a run.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Role {
    /// The column that says when or where a row is read.
    Schedule,
    /// A column of readings, by its place among them.
    Column(usize),
    /// Noted once for a run: set beforehand, or read in the first row.
    Once,
}

/// A quantity that is read or noted.
#[derive(Debug, Clone, Copy)]
pub struct Sought<'a> {
    /// Its name in formulas.
    pub id: &'a str,
    /// Its symbol.
    pub symbol: &'a Symbol,
    /// Its name in all languages.
    pub name: &'a Text,
    /// The unit that it is printed in.
    pub unit: &'a Unit,
    /// Its part.
    pub role: Role,
    /// Decimals that are printed at least.
    pub places: usize,
    /// The values that it can have, in `unit`.
    pub span: (f64, f64),
}

/// All quantities that are read or noted, in the order of a form.
pub fn sought(experiment: &Experiment) -> Vec<Sought<'_>> {
    let definition = &experiment.definition;
    let open = (f64::NEG_INFINITY, f64::INFINITY);
    let schedule = &experiment.schedule;
    let mut all = vec![Sought {
        id: &schedule.id,
        symbol: &schedule.symbol,
        name: &definition.readings.schedule.name,
        unit: &schedule.unit,
        role: Role::Schedule,
        places: schedule.values.places,
        span: open,
    }];
    for (place, column) in experiment.columns.iter().enumerate() {
        let Some(text) = definition.readings.table.get(&column.id) else { continue };
        all.push(Sought {
            id: &column.id,
            symbol: &column.symbol,
            name: &text.name,
            unit: &column.unit,
            role: Role::Column(place),
            places: rounding::places(&rounding::plain(column.instrument.resolution)),
            span: column.span,
        });
    }
    for drawn in experiment.drawn.iter().filter(|drawn| drawn.told) {
        let Some(text) = definition.drawn.get(&drawn.id) else { continue };
        all.push(Sought {
            id: &drawn.id,
            symbol: &drawn.symbol,
            name: &text.name,
            unit: &drawn.unit,
            role: Role::Once,
            places: drawn.range.places,
            span: open,
        });
    }
    for once in &experiment.once {
        let Some(text) = definition.readings.once.get(&once.id) else { continue };
        all.push(Sought {
            id: &once.id,
            symbol: &once.symbol,
            name: &text.name,
            unit: &once.unit,
            role: Role::Once,
            places: rounding::places(&rounding::plain(once.instrument.resolution)),
            span: once.span,
        });
    }
    all
}

impl Sought<'_> {
    /// The head of its column, such as `T / °C`.
    pub fn head(&self) -> String {
        let unit = self.unit.print();
        if unit.is_empty() { self.id.to_owned() } else { format!("{} / {unit}", self.id) }
    }

    /// The quantity as somebody noted it once; nothing where it is of another kind.
    pub fn noted(&self, quantity: &Quantity) -> Option<Stated> {
        if quantity.dimension() != self.unit.dimension() {
            return None;
        }
        Some(in_unit(quantity.value, quantity.places(), &quantity.unit, self).stated(self))
    }
}

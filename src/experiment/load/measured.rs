//! Schedule and columns. In: the definition and the bench. Out: checked parts. Nothing is read here.

use indexmap::IndexMap;

use super::{Checker, Definition, drawn::Ends, measure};
use crate::{
    bench::Bench,
    draw::Range,
    experiment::{
        definition::Column,
        place::escape,
        plan::{ReadQuantity, SchedulePlan},
    },
    quantity::Unit,
};

/// More rows than a page holds.
const MOST_ROWS: u32 = 60;

impl Checker<'_> {
    pub(super) fn unit(&mut self, pointer: &str, text: &str) -> Option<Unit> {
        Unit::parse(text)
            .map_err(|error| {
                let problem = crate::report::Problem::error(error.message)
                    .at(self.places.inside(pointer, &error.span))
                    .label("not a unit");
                self.problems.push(crate::report::Problem { hint: error.hint, ..problem });
            })
            .ok()
    }

    pub(super) fn schedule(&mut self, definition: &Definition, bench: Option<&dyn Bench>) -> Option<SchedulePlan> {
        let schedule = &definition.readings.schedule;
        let pointer = "/readings/schedule";
        let symbol = self.symbol(&format!("{pointer}/symbol"), &schedule.symbol);
        let unit = self.unit(&format!("{pointer}/unit"), &schedule.unit)?;
        let variable = bench?.variable();
        let bench_unit = Unit::parse(variable.unit).ok()?;
        if unit.dimension() != bench_unit.dimension() || unit.kind() != bench_unit.kind() {
            let hint = Some(format!("this bench is read over its {}", variable.id));
            self.faulty.insert(schedule.column.clone());
            let label = format!("expected a unit like `{}`", variable.unit);
            self.error(
                &format!("{pointer}/unit"),
                format!("the schedule's unit is that of {}", measure(&unit)),
                &label,
                hint,
            );
            return None;
        }
        let mut ends = [0.0; 3];
        let mut places = 0;
        let parts = [("from", &schedule.from), ("to", &schedule.to), ("every", &schedule.every)];
        for (slot, (part, quantity)) in ends.iter_mut().zip(parts) {
            if quantity.dimension() != unit.dimension() {
                let message = format!("`{part}` is {}", measure(&quantity.unit));
                let label = format!("expected a unit like `{}`", unit.print());
                let bare = quantity.unit.print().is_empty();
                let hint = bare.then(|| format!("write `{} {}`", quantity.text, unit.print()));
                self.error(&format!("{pointer}/{part}"), message, &label, hint);
                return None;
            }
            *slot = if part == "every" { quantity.si() / unit.scale() } else { unit.from_si(quantity.si()) };
            if part != "to" {
                places = places.max(quantity.places());
            }
        }
        let values = Range::new(ends[0], ends[1], ends[2], places)
            .map_err(|error| {
                let parts = Ends { from: "from", to: "to", step: "every", unit: &unit.print() };
                self.no_range(pointer, "no rows can be read", (ends[0], ends[1], ends[2]), &parts, &error);
            })
            .ok()?;
        if values.count > MOST_ROWS {
            let hint = Some("write a larger step".to_owned());
            let message = format!("{} rows do not fit on a page", values.count);
            self.error(&format!("{pointer}/every"), message, &format!("at most {MOST_ROWS} rows"), hint);
        }
        Some(SchedulePlan { id: schedule.column.clone(), symbol: symbol?, unit, values, bench_unit })
    }

    pub(super) fn read_quantities(
        &mut self,
        definition: &Definition,
        columns: &IndexMap<String, Column>,
        part: &str,
        bench: Option<&dyn Bench>,
    ) -> Vec<ReadQuantity> {
        let found = columns.iter().filter_map(|(id, column)| {
            let pointer = format!("/readings/{part}/{}", escape(id));
            self.read_quantity(definition, id, column, &pointer, bench)
        });
        found.collect()
    }

    fn read_quantity(
        &mut self,
        definition: &Definition,
        id: &str,
        column: &Column,
        pointer: &str,
        bench: Option<&dyn Bench>,
    ) -> Option<ReadQuantity> {
        let symbol = self.symbol(&format!("{pointer}/symbol"), &column.symbol);
        let unit = self.unit(&format!("{pointer}/unit"), &column.unit);
        let instrument = self.find_instrument(definition, column, pointer);
        let states = bench?.states();
        let Some(state) = states.iter().position(|state| state.id == column.of) else {
            let known: Vec<&str> = states.iter().map(|state| state.id).collect();
            self.unknown(&format!("{pointer}/of"), "state of the bench", &column.of, &known);
            return None;
        };
        let state_unit = Unit::parse(states[state].unit).ok()?;
        let unit = unit?;
        if unit.dimension() != state_unit.dimension() || unit.kind() != state_unit.kind() {
            let label = format!("expected a unit like `{}`", states[state].unit);
            let message = format!("`{}` is {}", column.of, measure(&state_unit));
            let hint = if unit.dimension() == state_unit.dimension() {
                format!("write `unit: {}`: `K` is for differences of temperatures", states[state].unit)
            } else {
                "write another unit, or another state after `of`".to_owned()
            };
            self.error(&format!("{pointer}/unit"), message, &label, Some(hint));
            self.faulty.insert(id.to_owned());
            return None;
        }
        let span = self.span(&column.with, instrument?, &unit);
        let instrument = self.instrument(&column.with, instrument?, &unit)?;
        Some(ReadQuantity {
            id: id.to_owned(),
            symbol: symbol?,
            state,
            state_unit,
            unit,
            instrument_name: column.with.clone(),
            instrument,
            span: span?,
        })
    }
}

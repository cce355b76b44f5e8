//! What serves real runs. In: the definition, the bench, all names. Out: checked parts. Nothing is measured here.

use super::{Checker, Definition, Names};
use crate::{
    bench::Bench,
    experiment::{definition, place::escape, plan::FittablePlan},
    formula::{Node, Shape, Type},
    quantity::{Quantity, Unit},
};

/// What stands before the name of a column where the bench's is meant, not the run's.
pub(crate) const OF_BENCH: &str = "bench_";

impl Checker<'_> {
    pub(super) fn fittable(&mut self, definition: &Definition, bench: Option<&dyn Bench>) -> Vec<FittablePlan> {
        let fittable = definition.fittable.iter();
        fittable
            .filter_map(|(name, one)| {
                let pointer = format!("/fittable/{}", escape(name));
                let symbol = self.symbol(&format!("{pointer}/symbol"), &one.symbol);
                let input = self.input(&pointer, name, &one.from, bench)?;
                let mut end = |part: &str, quantity: &Quantity| {
                    let place = format!("{pointer}/{part}");
                    let target = self.fits(&place, quantity, input)?;
                    let value = target.unit.from_si(quantity.si());
                    self.within(&place, value, input);
                    Some((target, value))
                };
                let (from, to) = (end("from", &one.from), end("to", &one.to));
                let ((target, from), (_, to)) = (from?, to?);
                if from >= to {
                    let hint = Some("write the smaller value behind `from`".to_owned());
                    self.error(&format!("{pointer}/to"), "`to` is not above `from`", "not above the start", hint);
                }
                Some(FittablePlan { input: target, symbol: symbol?, unit: one.from.unit.clone(), within: (from, to) })
            })
            .collect()
    }

    /// The readings that an instrument can show, in the unit that it is read in.
    pub(super) fn span(&mut self, name: &str, instrument: &definition::Instrument, unit: &Unit) -> Option<(f64, f64)> {
        let Some(span) = &instrument.span else { return Some((f64::NEG_INFINITY, f64::INFINITY)) };
        let pointer = format!("/instruments/{}/span", escape(name));
        for (part, quantity) in [("from", &span.from), ("to", &span.to)] {
            if quantity.dimension() != unit.dimension() || quantity.unit.kind() != unit.kind() {
                let found = super::measure(&quantity.unit);
                let hint = Some(format!("write it in a unit like `{}`", unit.print()));
                let message = format!("`{part}` is {found}, but `{name}` reads in `{}`", unit.print());
                self.error(&format!("{pointer}/{part}"), message, "of another kind", hint);
                return None;
            }
        }
        let (from, to) = (unit.from_si(span.from.si()), unit.from_si(span.to.si()));
        if from >= to {
            let hint = Some("write the smaller reading behind `from`".to_owned());
            self.error(&format!("{pointer}/to"), "`to` is not above `from`", "not above the start", hint);
        }
        Some((from, to))
    }

    /// Conditions over what is read and what the bench gives at the same places.
    pub(super) fn causes(&mut self, definition: &Definition, names: &Names) -> Vec<Node> {
        let mut names = names.clone();
        let readings = &definition.readings;
        let units = readings.table.iter().map(|(id, column)| (id, &column.unit));
        for (id, unit) in units {
            if let Ok(unit) = Unit::parse(unit) {
                let found = Type { dimension: unit.dimension(), kind: unit.kind(), shape: Shape::Column };
                names.add(&format!("{OF_BENCH}{id}"), found);
            }
        }
        let causes = definition.compare.iter().enumerate();
        causes
            .filter_map(|(index, cause)| self.comparison(&format!("/compare/{index}/holds"), &cause.holds, &names))
            .collect()
    }
}

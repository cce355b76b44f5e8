//! Drawn quantities: what differs from student to student. In: the definition and the bench. Out: checked ranges.
//! Nothing is drawn here.

use super::{Checker, Definition};
use crate::{
    bench::Bench,
    draw::{Range, RangeError},
    experiment::{definition::Drawn, place::escape, plan::DrawnQuantity},
    quantity::rounding,
};

/// What the parts of a range are called in the file, and its unit.
pub(super) struct Ends<'a> {
    pub(super) from: &'static str,
    pub(super) to: &'static str,
    pub(super) step: &'static str,
    pub(super) unit: &'a str,
}

impl Checker<'_> {
    pub(super) fn drawn(&mut self, definition: &Definition, bench: Option<&dyn Bench>) -> Vec<DrawnQuantity> {
        definition
            .drawn
            .iter()
            .filter_map(|(id, drawn)| {
                let pointer = format!("/drawn/{}", escape(id));
                let symbol = self.symbol(&format!("{pointer}/symbol"), &drawn.symbol);
                let input = match &drawn.sets {
                    Some(name) => self.input(&format!("{pointer}/sets"), name, &drawn.from, bench),
                    None => self.input(&pointer, id, &drawn.from, bench),
                };
                let range = self.range(&pointer, drawn);
                let input = input?;
                let Some(target) = self.fits(&format!("{pointer}/from"), &drawn.from, input) else {
                    self.faulty.insert(id.clone());
                    return None;
                };
                // An end in another unit has been said already; its number would only mislead.
                let ends = [("from", &drawn.from), ("to", &drawn.to)].into_iter();
                for (end, quantity) in ends.filter(|(_, end)| end.dimension() == drawn.from.dimension()) {
                    self.within(&format!("{pointer}/{end}"), target.unit.from_si(quantity.si()), input);
                }
                let unit = drawn.from.unit.clone();
                Some(DrawnQuantity {
                    id: id.clone(),
                    symbol: symbol?,
                    range: range?,
                    unit,
                    input: target,
                    told: drawn.told,
                })
            })
            .collect()
    }

    fn range(&mut self, pointer: &str, drawn: &Drawn) -> Option<Range> {
        let unit = &drawn.from.unit;
        for (part, quantity) in [("to", &drawn.to), ("step", &drawn.step)] {
            let fits = quantity.unit.print() == unit.print()
                || (part == "step"
                    && quantity.dimension() == unit.dimension()
                    && quantity.unit.scale() == unit.scale());
            if !fits {
                let message =
                    format!("`{part}` is in `{}`, but `from` is in `{}`", quantity.unit.print(), unit.print());
                self.error(
                    &format!("{pointer}/{part}"),
                    message,
                    "another unit",
                    Some("use one unit for all three".into()),
                );
                return None;
            }
        }
        let places = drawn.step.places().max(drawn.from.places());
        let (from, to, step) = (drawn.from.value, drawn.to.value, drawn.step.value);
        let range = Range::new(from, to, step, places)
            .map_err(|error| {
                let parts = Ends { from: "from", to: "to", step: "step", unit: &unit.print() };
                self.no_range(pointer, "no values can be drawn", (from, to, step), &parts, &error);
            })
            .ok()?;
        if range.count == 1 {
            let hint = "give it another end, or move it to `given`";
            self.warning(&format!("{pointer}/to"), "all students get the same value", "same as `from`", hint);
        }
        Some(range)
    }

    /// Why ends and step make no range, at the one to mend.
    pub(super) fn no_range(
        &mut self,
        pointer: &str,
        what: &str,
        (from, to, step): (f64, f64, f64),
        parts: &Ends<'_>,
        error: &RangeError,
    ) {
        let Ends { from: first, to: last, step: apart, unit } = parts;
        let (at, message, label, hint) = match error {
            RangeError::Step => {
                let message = format!("`{apart}` is not above zero");
                (apart, message, "expected more than zero", "write the distance of neighbouring values".to_owned())
            }
            RangeError::Swapped => {
                (last, format!("`{last}` lies below `{first}`"), "below the start", "swap the two".to_owned())
            }
            RangeError::Uneven => {
                let steps = libm::floor((to - from) / step);
                let [below, above] =
                    [steps, steps + 1.0].map(|steps| rounding::plain(libm::round((from + steps * step) * 1e9) / 1e9));
                let unit = if unit.is_empty() { String::new() } else { format!(" {unit}") };
                let [start, step, end] = [from, step, to].map(rounding::plain);
                let message = format!("steps of {step}{unit} from {start}{unit} do not lead to {end}{unit}");
                (
                    last,
                    message,
                    "between two steps",
                    format!("write `{last}: {below}{unit}` or `{last}: {above}{unit}`"),
                )
            }
            RangeError::Endless => {
                let message = format!("{what}: there are more than a million steps");
                (apart, message, "too small", "write a larger step".to_owned())
            }
        };
        self.error(&format!("{pointer}/{at}"), message, label, Some(hint));
    }
}

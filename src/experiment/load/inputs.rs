//! Settings, drawn and given quantities: what the bench is set to. In: the definition and the bench. Out: checked parts.
//! Nothing is drawn here.

use indexmap::IndexMap;

use super::{Checker, Definition};
use crate::{
    bench::{Bench, Input},
    draw::Range,
    experiment::{
        definition::Drawn,
        place::escape,
        plan::{BenchInput, DrawnQuantity, GivenQuantity},
    },
    formula::Symbol,
    quantity::{Quantity, Unit, familiar},
};

impl Checker<'_> {
    pub(super) fn settings(&mut self, definition: &Definition, bench: Option<&dyn Bench>) -> Vec<(String, f64)> {
        let mut settings = Vec::new();
        for (name, quantity) in &definition.settings {
            let pointer = format!("/settings/{}", escape(name));
            let Some(input) = self.input(&pointer, name, bench) else { continue };
            if let Some(target) = self.fits(&pointer, quantity, input) {
                let value = target.unit.from_si(quantity.si());
                self.within(&pointer, value, input);
                settings.push((target.name, value));
            }
        }
        settings
    }

    pub(super) fn drawn(&mut self, definition: &Definition, bench: Option<&dyn Bench>) -> Vec<DrawnQuantity> {
        definition
            .drawn
            .iter()
            .filter_map(|(id, drawn)| {
                let pointer = format!("/drawn/{}", escape(id));
                let symbol = self.symbol(&format!("{pointer}/symbol"), &drawn.symbol);
                let input = match &drawn.sets {
                    Some(name) => self.input(&format!("{pointer}/sets"), name, bench),
                    None => self.input(&pointer, id, bench),
                };
                let range = self.range(&pointer, drawn);
                let input = input?;
                let target = self.fits(&format!("{pointer}/from"), &drawn.from, input)?;
                for (end, quantity) in [("from", &drawn.from), ("to", &drawn.to)] {
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

    pub(super) fn given(&mut self, definition: &Definition, bench: Option<&dyn Bench>) -> Vec<GivenQuantity> {
        definition
            .given
            .iter()
            .filter_map(|(id, given)| {
                let pointer = format!("/given/{}", escape(id));
                let symbol = self.symbol(&format!("{pointer}/symbol"), &given.symbol);
                let input = match &given.sets {
                    None => None,
                    Some(name) => {
                        let input = self.input(&format!("{pointer}/sets"), name, bench)?;
                        let place = format!("{pointer}/value");
                        let target = self.fits(&place, &given.value, input)?;
                        self.within(&place, target.unit.from_si(given.value.si()), input);
                        Some(target)
                    }
                };
                Some(GivenQuantity { id: id.clone(), symbol: symbol?, value: given.value.clone(), input })
            })
            .collect()
    }

    /// No input may be set from two places.
    pub(super) fn inputs_set_once(&mut self, definition: &Definition) {
        let mut set: IndexMap<String, String> = IndexMap::new();
        let settings = definition.settings.keys().map(|name| (name.clone(), format!("/settings/{}", escape(name))));
        let drawn = definition
            .drawn
            .iter()
            .map(|(id, drawn)| (drawn.sets.clone().unwrap_or_else(|| id.clone()), format!("/drawn/{}", escape(id))));
        let given = definition
            .given
            .iter()
            .filter_map(|(id, given)| given.sets.clone().map(|name| (name, format!("/given/{}", escape(id)))));
        for (name, pointer) in settings.chain(drawn).chain(given) {
            if let Some(before) = set.get(&name) {
                let hint = Some(format!("`{}` sets it already", before.trim_start_matches('/').replace('/', ".")));
                self.error(&pointer, format!("the input `{name}` is set twice"), "set before", hint);
            } else {
                set.insert(name, pointer);
            }
        }
    }

    pub(super) fn symbol(&mut self, pointer: &str, text: &str) -> Option<Symbol> {
        Symbol::parse(text)
            .map_err(|message| {
                let hint = Some("write letters, then an index after `_`, such as `P_el`".to_owned());
                self.error(pointer, message, "not a symbol", hint);
            })
            .ok()
    }

    fn input(&mut self, pointer: &str, name: &str, bench: Option<&dyn Bench>) -> Option<&'static Input> {
        let bench = bench?;
        let found = bench.inputs().iter().find(|input| input.name == name);
        if found.is_none() {
            let known: Vec<&str> = bench.inputs().iter().map(|input| input.name).collect();
            let what = format!("input of bench `{}`", bench.id());
            if pointer.ends_with("/sets") {
                self.unknown(pointer, &what, name, &known);
            } else {
                let hint = match crate::report::nearest(name, known.iter().copied()) {
                    Some(near) => format!("did you mean `{near}`? or say with `sets` which input it is"),
                    None => format!("say with `sets` which input it is: {}", known.join(", ")),
                };
                let problem = crate::report::Problem::error(format!("unknown {what} `{name}`"));
                self.problems.push(problem.at(self.places.key(pointer)).label("no such input").hint(hint));
            }
        }
        found
    }

    /// The input as a target, if the quantity is of its kind.
    fn fits(&mut self, pointer: &str, quantity: &Quantity, input: &Input) -> Option<BenchInput> {
        let unit = Unit::parse(input.unit).ok()?;
        if unit.dimension() == quantity.dimension() && unit.kind() == quantity.unit.kind() {
            return Some(BenchInput { name: input.name.to_owned(), unit });
        }
        let found = familiar(quantity.dimension());
        let label = format!("expected a unit like `{}`", input.unit);
        let hint = Some(format!("the bench's `{}` is {}", input.name, input.about));
        self.error(pointer, format!("`{}` is set to {found}", input.name), &label, hint);
        None
    }

    fn within(&mut self, pointer: &str, value: f64, input: &Input) {
        let (low, high) = input.valid;
        if value < low || value > high {
            let hint = Some(format!("`{}` may be from {low} to {high} {}", input.name, input.unit));
            let message = format!("{value} {} is outside what the bench's model covers", input.unit);
            self.error(pointer, message, "outside the valid range", hint);
        }
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
        Range::new(drawn.from.value, drawn.to.value, drawn.step.value, places)
            .map_err(|error| {
                let hint =
                    Some("choose `from`, `to` and `step` so that whole steps lead from one to the other".to_owned());
                self.error(pointer, format!("no values can be drawn: {error}"), "not a range", hint);
            })
            .ok()
    }
}

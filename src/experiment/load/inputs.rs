//! Settings and given quantities: what the bench is set to. In: the definition and the bench. Out: checked parts.
//! Nothing is drawn here.

use indexmap::IndexMap;

use super::{Checker, Definition, measure};
use crate::{
    bench::{Bench, Input},
    experiment::{
        place::escape,
        plan::{BenchInput, GivenQuantity},
    },
    formula::Symbol,
    quantity::{Kind, Quantity, Unit},
};

impl Checker<'_> {
    pub(super) fn settings(&mut self, definition: &Definition, bench: Option<&dyn Bench>) -> Vec<(String, f64)> {
        let mut settings = Vec::new();
        for (name, quantity) in &definition.settings {
            let pointer = format!("/settings/{}", escape(name));
            let Some(input) = self.input(&pointer, name, quantity, bench) else { continue };
            if let Some(target) = self.fits(&pointer, quantity, input) {
                let value = target.unit.from_si(quantity.si());
                self.within(&pointer, value, input);
                settings.push((target.name, value));
            }
        }
        settings
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
                        let input = self.input(&format!("{pointer}/sets"), name, &given.value, bench)?;
                        let place = format!("{pointer}/value");
                        let Some(target) = self.fits(&place, &given.value, input) else {
                            self.faulty.insert(id.clone());
                            return None;
                        };
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
                let problem = crate::report::Problem::error(format!("the input `{name}` is set twice"))
                    .at(self.places.key(&*pointer))
                    .label("sets it again")
                    .also(self.places.key(&**before), "sets it")
                    .hint("delete one of the two, or change the `sets` of one");
                self.problems.push(problem);
            } else {
                set.insert(name, pointer);
            }
        }
    }

    pub(super) fn symbol(&mut self, pointer: &str, text: &str) -> Option<Symbol> {
        Symbol::parse(text)
            .map_err(|message| {
                let message = if text.trim().is_empty() { "the symbol is empty".to_owned() } else { message };
                let parts: Vec<&str> =
                    text.split(|sign: char| !sign.is_alphanumeric()).filter(|part| !part.is_empty()).collect();
                let near = match parts.split_first() {
                    Some((base, [])) => (*base).to_owned(),
                    Some((base, index)) => format!("{base}_{}", index.concat()),
                    None => "P_el".to_owned(),
                };
                let hint = format!("write letters and digits, then one index behind `_`, such as `{near}`");
                self.error(pointer, message, "not a symbol", Some(hint));
            })
            .ok()
    }

    /// The input of a name; where there is none, those of the quantity's kind are listed.
    pub(super) fn input(
        &mut self,
        pointer: &str,
        name: &str,
        quantity: &Quantity,
        bench: Option<&dyn Bench>,
    ) -> Option<&'static Input> {
        let bench = bench?;
        let found = bench.inputs().iter().find(|input| input.name == name);
        if found.is_none() {
            let known: Vec<&str> = bench.inputs().iter().map(|input| input.name).collect();
            let alike = |input: &&Input| {
                let unit = Unit::parse(input.unit);
                unit.is_ok_and(|unit| unit.dimension() == quantity.dimension() && unit.kind() == quantity.unit.kind())
            };
            let alike: Vec<&str> = bench.inputs().iter().filter(alike).map(|input| input.name).collect();
            let listed = if alike.is_empty() { known.join(", ") } else { alike.join(", ") };
            let message = format!("the bench `{}` has no input `{name}`", bench.id());
            if pointer.ends_with("/sets") {
                let hint = crate::report::nearest(name, known.iter().copied())
                    .map_or_else(|| format!("known are {listed}"), |near| format!("did you mean `{near}`?"));
                self.error(pointer, message, "no such input", Some(hint));
            } else {
                let hint = match crate::report::nearest(name, known.iter().copied()) {
                    Some(near) if pointer.starts_with("/drawn") => format!("did you mean `sets: {near}`?"),
                    Some(near) => format!("did you mean `{near}`?"),
                    None if pointer.starts_with("/drawn") => {
                        format!("say with `sets` which input it sets: {listed}")
                    }
                    None => format!("known are {listed}"),
                };
                let problem = crate::report::Problem::error(message);
                self.problems.push(problem.at(self.places.key(pointer)).label("no such input").hint(hint));
            }
        }
        found
    }

    /// The input as a target, if the quantity is of its kind.
    pub(super) fn fits(&mut self, pointer: &str, quantity: &Quantity, input: &Input) -> Option<BenchInput> {
        let unit = Unit::parse(input.unit).ok()?;
        if unit.dimension() == quantity.dimension() && unit.kind() == quantity.unit.kind() {
            return Some(BenchInput { name: input.name.to_owned(), unit });
        }
        let found = measure(&quantity.unit);
        let label = match input.unit {
            "1" => "expected a number without unit, or in %".to_owned(),
            unit => format!("expected a unit like `{unit}`"),
        };
        let coulomb = unit.kind() == Kind::Point && quantity.unit.print() == "C";
        let hint = Some(match (coulomb, unit.dimension() == quantity.dimension()) {
            (true, _) => "`C` is the coulomb: write `°C`".to_owned(),
            (_, true) => format!(
                "the bench's `{}` is {}: write it in `{}`",
                input.name,
                measure(&unit),
                if unit.kind() == Kind::Point { "°C" } else { "K" }
            ),
            _ => format!("`{}` is the bench's input for: {}", input.name, input.about),
        });
        self.error(pointer, format!("`{}` is set to {found}", input.name), &label, hint);
        None
    }

    pub(super) fn within(&mut self, pointer: &str, value: f64, input: &Input) {
        let (low, high) = input.valid;
        if value < low || value > high {
            let unit = Unit::parse(input.unit).map_or_else(|_| input.unit.to_owned(), |unit| unit.print());
            let hint = Some(format!("`{}` may be from {low} to {high} {unit}", input.name).trim_end().to_owned());
            let message = format!("the bench's model does not cover {value} {unit}").trim_end().to_owned();
            self.error(pointer, message, "outside the valid range", hint);
        }
    }
}

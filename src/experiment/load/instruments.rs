//! Instruments. In: the definition and the unit that is read. Out: instruments in that unit. Nothing is read here.

use super::{Checker, Definition, measure};
use crate::{
    experiment::{
        definition::{self, Column},
        place::escape,
    },
    quantity::{Kind, Quantity, Unit, familiar},
    readings::Instrument,
};

impl Checker<'_> {
    pub(super) fn find_instrument<'d>(
        &mut self,
        definition: &'d Definition,
        column: &Column,
        pointer: &str,
    ) -> Option<&'d definition::Instrument> {
        let found = definition.instruments.get(&column.with);
        if found.is_none() {
            let known: Vec<&str> = definition.instruments.keys().map(String::as_str).collect();
            self.unknown(&format!("{pointer}/with"), "instrument", &column.with, &known);
        }
        found
    }

    /// The instrument in the unit that it is read in.
    pub(super) fn instrument(
        &mut self,
        name: &str,
        instrument: &definition::Instrument,
        unit: &Unit,
    ) -> Option<Instrument> {
        let pointer = format!("/instruments/{}", escape(name));
        let mut part = |field: &str, quantity: &Quantity| -> Option<f64> {
            let place = format!("{pointer}/{field}");
            if quantity.dimension() != unit.dimension() || quantity.unit.kind() != Kind::Plain {
                let message = format!("`{field}` is {}", measure(&quantity.unit));
                let hint = if quantity.unit.kind() == Kind::Plain {
                    format!("`{name}` reads in `{}`", unit.print())
                } else {
                    format!("write `{} K`: an instrument's errors are differences", quantity.text)
                };
                self.error(&place, message, &format!("expected {}", familiar(unit.dimension())), Some(hint));
                return None;
            }
            if quantity.value < 0.0 || (field == "resolution" && quantity.value == 0.0) {
                let label = if field == "resolution" { "expected more than zero" } else { "expected zero or more" };
                let hint = match field {
                    "resolution" => "write the step of the display, such as `0.1 K`",
                    "limit" => "write how far a reading may lie from the true value, such as `0.5 K`",
                    _ => "write the standard deviation of repeated readings, such as `0.05 K`",
                };
                self.error(&place, format!("`{field}` is {}", quantity.text), label, Some(hint.to_owned()));
                return None;
            }
            Some(quantity.si() / unit.scale())
        };
        let resolution = part("resolution", &instrument.resolution);
        let limit = part("limit", &instrument.limit);
        let noise = part("noise", &instrument.noise);
        Some(Instrument {
            resolution: resolution?,
            limit: limit?,
            limit_share: instrument.limit_percent / 100.0,
            noise: noise?,
        })
    }
}

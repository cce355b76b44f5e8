//! A cell of readings. In: its text. Out: a reading in the unit of the experiment, none, or why it is of no use. It must never
//! guess: what is no number is told.

use super::{
    Reading, Sought,
    columns::{converted, notation_of},
};
use crate::{
    language::Language,
    quantity::{Unit, rounding},
    table::{Cell, CellKind},
};

/// Signs of no reading.
const BLANK: [&str; 6] = ["", "-", "–", "—", "n/a", "x"];
/// What instruments show beyond their range, and loggers without a sensor.
const BEYOND: [&str; 9] = ["ol", "o.l", "o.l.", "over", "overflow", "---", "nan", "inf", "err"];
/// Digits that a conversion of units may add.
const MORE_PLACES: usize = 2;

/// What a cell holds.
#[derive(Debug, Clone, PartialEq)]
pub(super) enum Found {
    /// Nothing was read.
    Missing,
    /// A reading.
    Reading(Reading),
    /// Something that is of no use: what was found, and what to do.
    Useless(String, String),
}

/// Reads a cell whose numbers are in `unit`, unless it names another.
pub(super) fn reading(cell: &Cell, unit: &Unit, sought: &Sought<'_>) -> Found {
    let text = cell.text.trim();
    let lower = text.to_lowercase();
    if BLANK.contains(&lower.as_str()) {
        return Found::Missing;
    }
    let useless = |found: String, hint: &str| Found::Useless(found, hint.to_owned());
    if BEYOND.contains(&lower.as_str()) || lower.starts_with("error") {
        return useless(format!("`{text}` is what an instrument shows beyond its range"), "leave the cell empty");
    }
    if cell.kind == CellKind::Date {
        let hint = "set the cell to text and type the reading again";
        return useless(format!("`{text}` is a date, which a spreadsheet may have made of a number"), hint);
    }
    // In readings a lone sign is the decimal sign, in whatever language.
    let language = notation_of(text).or_else(|| Language::all().first());
    let written = language.map(|language| language.notation.parse_number(text));
    let Some(Ok(written)) = written else {
        return useless(format!("`{text}` is no number"), "type the reading, such as 21.3, or leave the cell empty");
    };
    let value = written.other.filter(|_| text.matches(['.', ',']).count() == 1).unwrap_or(written.value);
    let own = match written.rest.as_str() {
        "" => unit.clone(),
        rest => match Unit::parse(rest) {
            Ok(own) if own.dimension() == sought.unit.dimension() => own,
            _ => {
                let hint = format!("type the reading alone, or with a unit like `{}`", sought.unit.print());
                return Found::Useless(format!("`{text}` is no number, nor one with a unit of `{}`", sought.id), hint);
            }
        },
    };
    let typed = if written.value.abs() >= 1e15 { 0 } else { places(text) };
    let found = in_unit(value, typed, &own, sought);
    let (low, high) = sought.span;
    if !(low..=high).contains(&found.value) {
        let [low, high] = [low, high].map(rounding::plain);
        let unit = sought.unit.print();
        let found = format!("`{text}` lies beyond the instrument, which reads from {low} to {high} {unit}");
        return useless(found.trim_end().to_owned(), "leave the cell empty, or correct the reading");
    }
    Found::Reading(found)
}

/// A number with so many decimals in the unit of the experiment.
pub(super) fn in_unit(value: f64, typed: usize, unit: &Unit, sought: &Sought<'_>) -> Reading {
    let converted = converted(value, unit, sought.unit);
    let same_scale = unit.scale() == sought.unit.scale();
    let places = if same_scale { typed.max(sought.places) } else { sought.places + MORE_PLACES };
    let rounded = rounding::to_places(converted, places.min(12));
    // What a conversion adds is left out where it says nothing.
    if same_scale {
        Reading { value: rounded.value, text: rounded.text }
    } else {
        Reading { value: converted, text: trimmed(&rounded.text, sought.places) }
    }
}

/// A decimal text without zeros behind the first `least` decimals.
pub(super) fn trimmed(text: &str, least: usize) -> String {
    let mut text = text.to_owned();
    while rounding::places(&text) > least && text.ends_with('0') {
        text.pop();
    }
    text.trim_end_matches('.').to_owned()
}

/// Decimals that were typed.
fn places(text: &str) -> usize {
    let digits =
        text.split(|sign: char| sign.is_whitespace() || matches!(sign, 'e' | 'E' | '°')).next().unwrap_or(text);
    digits.rfind(['.', ',']).map_or(0, |at| digits[at + 1..].bytes().take_while(u8::is_ascii_digit).count())
}

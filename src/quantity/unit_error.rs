//! Why a text is no unit. In: the part that is at fault. Out: message, hint and place inside the text.
//! It must not know the file that the text stands in: the caller adds that place.

use std::ops::Range;

use super::catalogue::UNITS;

/// What is wrong with a unit.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum UnitFault {
    /// A symbol that the catalogue does not hold.
    Unknown,
    /// A temperature scale in a product, a quotient or a power.
    ScaleInCompound,
    /// A second `/`, or a product behind one: two readings (ISO 80000-1, 7.2).
    Quotient,
    /// A bracket that is not closed.
    Bracket,
    /// A power that can not be read.
    Power,
    /// A symbol is missing, or a sign has no place in a unit.
    Writing,
    /// A factor to SI that is beyond all numbers.
    Size,
}

/// Why a text is no unit.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[error("{message}")]
pub struct UnitError {
    /// The kind of fault.
    pub fault: UnitFault,
    /// What was found.
    pub message: String,
    /// How to mend it.
    pub hint: Option<String>,
    /// Bytes of the text.
    pub span: Range<usize>,
}

impl UnitError {
    pub(super) fn new(fault: UnitFault, span: Range<usize>, message: impl Into<String>) -> Self {
        Self { fault, message: message.into(), hint: None, span }
    }

    pub(super) fn hint(mut self, hint: impl Into<String>) -> Self {
        self.hint = Some(hint.into());
        self
    }

    /// A symbol that is in no row, with the nearest one that is.
    pub(super) fn unknown(symbol: &str, span: Range<usize>) -> Self {
        let error = Self::new(UnitFault::Unknown, span, format!("unknown unit `{symbol}`"));
        let lower = symbol.to_lowercase();
        if let Some((_, known)) = WORDS.iter().find(|(words, _)| words.contains(&lower.as_str())) {
            return error.hint(format!("write `{known}`"));
        }
        let plain = UNITS.iter().map(|row| row.symbol.to_owned());
        let prefixed = UNITS
            .iter()
            .filter(|row| row.prefixes)
            .flat_map(|row| LIKELY.iter().map(move |prefix| format!("{prefix}{}", row.symbol)));
        let mut known: Vec<String> = plain.chain(prefixed).collect();
        // Of `mW` and `MW`, as near to `Mw` when case is left out, the one that agrees in more letters goes first.
        known.sort_by_key(|known| strsim::damerau_levenshtein(symbol, known));
        match crate::report::nearest(symbol, known.iter().map(String::as_str)) {
            Some(near) => error.hint(format!("did you mean `{near}`?")),
            None => error.hint("units are written by their symbols, such as `W/(m2 K)`"),
        }
    }
}

/// Prefixes that a mistyped unit is likely to have: common practice, no source.
static LIKELY: &[&str] = &["k", "m", "c", "M", "µ", "G", "h"];

/// Words, in lower case, that people write in place of a symbol.
#[rustfmt::skip]
static WORDS: &[(&[&str], &str)] = &[
    (&["c", "c°", "degc", "ºc", "℃", "celsius", "grad"], "°C"),
    (&["kelvin", "degk", "°k", "ºk"], "K"),
    (&["qm", "sqm"], "m2"),
    (&["qcm", "sqcm"], "cm2"),
    (&["cbm"], "m3"),
    (&["metre", "metres", "meter", "meters", "mtr"], "m"),
    (&["gram", "grams", "gramme", "grammes", "gramm", "gr"], "g"),
    (&["kilogram", "kilograms", "kilogramm", "kilo", "kgs"], "kg"),
    (&["sec", "secs", "sek", "second", "seconds", "sekunde", "sekunden"], "s"),
    (&["mins", "minute", "minutes", "minuten"], "min"),
    (&["hr", "hrs", "hour", "hours", "std", "stunde", "stunden", "heure", "heures"], "h"),
    (&["day", "days", "tag", "tage"], "d"),
    (&["litre", "litres", "liter", "liters", "ltr"], "L"),
    (&["joule", "joules"], "J"),
    (&["watt", "watts"], "W"),
    (&["volt", "volts"], "V"),
    (&["ampere", "amperes", "amp", "amps"], "A"),
    (&["newton", "newtons"], "N"),
    (&["pascal", "pascals"], "Pa"),
    (&["percent", "prozent"], "%"),
    (&["qm", "sqm"], "m2"),
    (&["qcm", "sqcm"], "cm2"),
    (&["cbm"], "m3"),
    (&["degree", "degrees", "º"], "°"),
];

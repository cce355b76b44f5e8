//! The units that the trade writes: one row each. In: a symbol. Out: dimension and factor.
//! A row must be a fact of the SI brochure or of ISO 80000; sources are beside those that are not exact by definition.

use super::{Dimension, Kind};

/// A unit that can be written alone.
#[derive(Debug)]
pub(crate) struct Row {
    pub(crate) symbol: &'static str,
    pub(crate) dimension: Dimension,
    pub(crate) factor: f64,
    pub(crate) prefixes: bool,
    pub(crate) kind: Kind,
    /// What it measures, for messages; empty for units that share a dimension with a better known one.
    pub(crate) about: &'static str,
}

const fn row(symbol: &'static str, exponents: [i32; 7], factor: f64, prefixes: bool, about: &'static str) -> Row {
    Row { symbol, dimension: Dimension::whole(exponents), factor, prefixes, kind: Kind::Plain, about }
}

/// Zero of the Celsius scale in kelvins (SI brochure, 2.3.1).
pub(crate) const CELSIUS_ZERO: f64 = 273.15;

const PI: f64 = std::f64::consts::PI;

/// All units; exponents in the order kg, m, s, A, K, mol, cd.
#[rustfmt::skip]
pub(crate) static UNITS: &[Row] = &[
    row("m",   [0, 1, 0, 0, 0, 0, 0], 1.0, true, "a length"),
    row("g",   [1, 0, 0, 0, 0, 0, 0], 1e-3, true, "a mass"),
    row("s",   [0, 0, 1, 0, 0, 0, 0], 1.0, true, "a time"),
    row("A",   [0, 0, 0, 1, 0, 0, 0], 1.0, true, "a current"),
    row("K",   [0, 0, 0, 0, 1, 0, 0], 1.0, true, "a temperature difference"),
    row("mol", [0, 0, 0, 0, 0, 1, 0], 1.0, true, "an amount of substance"),
    row("cd",  [0, 0, 0, 0, 0, 0, 1], 1.0, true, "a luminous intensity"),
    row("Hz",  [0, 0, -1, 0, 0, 0, 0], 1.0, true, "a frequency"),
    row("N",   [1, 1, -2, 0, 0, 0, 0], 1.0, true, "a force"),
    row("Pa",  [1, -1, -2, 0, 0, 0, 0], 1.0, true, "a pressure"),
    row("J",   [1, 2, -2, 0, 0, 0, 0], 1.0, true, "an energy"),
    row("W",   [1, 2, -3, 0, 0, 0, 0], 1.0, true, "a power"),
    row("C",   [0, 0, 1, 1, 0, 0, 0], 1.0, true, "a charge"),
    row("V",   [1, 2, -3, -1, 0, 0, 0], 1.0, true, "a voltage"),
    row("F",   [-1, -2, 4, 2, 0, 0, 0], 1.0, true, "a capacitance"),
    row("Ω",   [1, 2, -3, -2, 0, 0, 0], 1.0, true, "a resistance"),
    // The ohm sign of Unicode, which some keyboards give in place of the Greek letter.
    row("\u{2126}", [1, 2, -3, -2, 0, 0, 0], 1.0, true, ""),
    row("ohm", [1, 2, -3, -2, 0, 0, 0], 1.0, true, ""),
    row("S",   [-1, -2, 3, 2, 0, 0, 0], 1.0, true, "a conductance"),
    row("Wb",  [1, 2, -2, -1, 0, 0, 0], 1.0, true, "a magnetic flux"),
    row("T",   [1, 0, -2, -1, 0, 0, 0], 1.0, true, "a flux density"),
    row("H",   [1, 2, -2, -2, 0, 0, 0], 1.0, true, "an inductance"),
    row("lm",  [0, 0, 0, 0, 0, 0, 1], 1.0, true, ""),
    row("lx",  [0, -2, 0, 0, 0, 0, 1], 1.0, true, "an illuminance"),
    row("Bq",  [0, 0, -1, 0, 0, 0, 0], 1.0, true, ""),
    row("Gy",  [0, 2, -2, 0, 0, 0, 0], 1.0, true, ""),
    row("Sv",  [0, 2, -2, 0, 0, 0, 0], 1.0, true, ""),
    row("kat", [0, 0, -1, 0, 0, 1, 0], 1.0, true, "a catalytic activity"),
    row("rad", [0, 0, 0, 0, 0, 0, 0], 1.0, true, ""),
    row("sr",  [0, 0, 0, 0, 0, 0, 0], 1.0, false, ""),
    row("°",   [0, 0, 0, 0, 0, 0, 0], PI / 180.0, false, ""),
    row("deg", [0, 0, 0, 0, 0, 0, 0], PI / 180.0, false, ""),
    row("%",   [0, 0, 0, 0, 0, 0, 0], 0.01, false, ""),
    row("‰",   [0, 0, 0, 0, 0, 0, 0], 0.001, false, ""),
    row("min", [0, 0, 1, 0, 0, 0, 0], 60.0, false, ""),
    row("h",   [0, 0, 1, 0, 0, 0, 0], 3600.0, false, ""),
    row("d",   [0, 0, 1, 0, 0, 0, 0], 86400.0, false, ""),
    row("L",   [0, 3, 0, 0, 0, 0, 0], 1e-3, true, ""),
    row("l",   [0, 3, 0, 0, 0, 0, 0], 1e-3, true, ""),
    row("bar", [1, -1, -2, 0, 0, 0, 0], 1e5, true, ""),
    row("Wh",  [1, 2, -2, 0, 0, 0, 0], 3600.0, true, ""),
    row("eV",  [1, 2, -2, 0, 0, 0, 0], 1.602_176_634e-19, true, ""),
    // The thermochemical calorie: common practice, the same as pint's.
    row("cal", [1, 2, -2, 0, 0, 0, 0], 4.184, true, ""),
    row("rpm", [0, 0, -1, 0, 0, 0, 0], 1.0 / 60.0, false, ""),
    Row { kind: Kind::Point, ..row("°C", [0, 0, 0, 0, 1, 0, 0], 1.0, false, "a temperature") },
];

/// Prefixes of the SI (SI brochure, table 7) that a school meets.
#[rustfmt::skip]
pub(crate) static PREFIXES: &[(&str, f64)] = &[
    ("da", 1e1), ("E", 1e18), ("P", 1e15), ("T", 1e12), ("G", 1e9), ("M", 1e6), ("k", 1e3), ("h", 1e2), ("d", 1e-1), ("c", 1e-2),
    ("m", 1e-3), ("µ", 1e-6), ("μ", 1e-6), ("u", 1e-6), ("n", 1e-9), ("p", 1e-12), ("f", 1e-15),
];

/// A symbol's row and the factor of its prefix; a unit without prefix goes before one with it.
pub(crate) fn find(symbol: &str) -> Option<(&'static Row, f64)> {
    let bare = UNITS.iter().find(|row| row.symbol == symbol).map(|row| (row, 1.0));
    bare.or_else(|| {
        PREFIXES.iter().find_map(|&(prefix, factor)| {
            let rest = symbol.strip_prefix(prefix)?;
            UNITS.iter().find(|row| row.prefixes && row.symbol == rest).map(|row| (row, factor))
        })
    })
}

//! What a dimension is called. In: a dimension. Out: words for a message. It must never reach a sheet.

use super::{Dimension, catalogue::UNITS};

/// Compounds that the benches meet often: exponents in the order kg, m, s, A, K, mol, cd.
#[rustfmt::skip]
static COMPOUNDS: &[([i32; 7], &str)] = &[
    ([0, 2, 0, 0, 0, 0, 0], "an area (m²)"),
    ([0, 3, 0, 0, 0, 0, 0], "a volume (m³)"),
    ([0, 1, -1, 0, 0, 0, 0], "a speed (m/s)"),
    ([1, -3, 0, 0, 0, 0, 0], "a density (kg/m³)"),
    ([1, 0, -1, 0, 0, 0, 0], "a mass flow (kg/s)"),
    ([0, 3, -1, 0, 0, 0, 0], "a volume flow (m³/s)"),
    ([1, 0, -3, 0, 0, 0, 0], "an irradiance (W/m²)"),
    ([1, 2, -2, 0, -1, 0, 0], "a heat capacity (J/K)"),
    ([0, 2, -2, 0, -1, 0, 0], "a specific heat capacity (J/(kg·K))"),
    ([0, 2, -2, 0, 0, 0, 0], "a specific energy (J/kg)"),
    ([1, 2, -3, 0, -1, 0, 0], "a power per kelvin (W/K)"),
    ([1, 0, -3, 0, -1, 0, 0], "a heat transfer coefficient (W/(m²·K))"),
    ([0, 0, -1, 0, 1, 0, 0], "a rate of heating (K/s)"),
];

/// A dimension in words with its unit, such as `an energy (J)`; else in base units.
pub fn familiar(dimension: Dimension) -> String {
    if dimension.is_one() {
        return "a plain number".to_owned();
    }
    let mass = Dimension::whole([1, 0, 0, 0, 0, 0, 0]);
    if dimension == mass {
        return "a mass (kg)".to_owned();
    }
    let named = UNITS.iter().find(|row| row.dimension == dimension && row.factor == 1.0 && !row.about.is_empty());
    let compound = || COMPOUNDS.iter().find(|(exponents, _)| Dimension::whole(*exponents) == dimension);
    match (named, compound()) {
        (Some(row), _) => format!("{} ({})", row.about, row.symbol),
        (None, Some((_, words))) => (*words).to_owned(),
        (None, None) => format!("a quantity in {dimension}"),
    }
}

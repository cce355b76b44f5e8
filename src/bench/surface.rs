//! What coats of paint and metals do with light and heat rays. In: a name of a finish. Out: its absorptance and emittance.
//! Values of handbooks differ by a few hundredths; a bench takes numbers, not names.

/// A finish: share α of sunlight that it absorbs, share ε of a black body's heat radiation that it emits near 320 K.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Finish {
    /// What it is.
    pub name: &'static str,
    /// Solar absorptance α, 1.
    pub absorptance: f64,
    /// Thermal emittance ε, 1.
    pub emittance: f64,
}

/// Finishes for plates, the best absorber last among equals.
///
/// Source: Duffie and Beckman, tables 4.7.1 and 4.8.1, and Incropera et al., table A.12 (quoted from memory).
pub static FINISHES: &[Finish] = &[
    Finish { name: "polished aluminium", absorptance: 0.10, emittance: 0.05 },
    Finish { name: "aluminium foil", absorptance: 0.15, emittance: 0.04 },
    Finish { name: "white paint", absorptance: 0.20, emittance: 0.90 },
    Finish { name: "black paint", absorptance: 0.95, emittance: 0.92 },
    Finish { name: "black chrome", absorptance: 0.95, emittance: 0.11 },
    Finish { name: "glass", absorptance: 0.08, emittance: 0.88 },
];

/// The finish of a name.
pub fn find(name: &str) -> Option<&'static Finish> {
    FINISHES.iter().find(|finish| finish.name == name)
}

//! What temperature bodies reach when they share their heat and lose none. In: masses in kg, temperatures in °C.
//! Out: the common temperature. It must know no losses and no time.

use super::{root, water};

/// The common temperature of bodies of constant heat capacity (J/K) at temperatures: `Σ C_i T_i / Σ C_i`.
///
/// Source: heat given off is heat taken up; calorimetry in any textbook. NaN where nothing stores heat.
pub fn common_temperature(bodies: &[(f64, f64)]) -> f64 {
    let (heat, capacity) = bodies.iter().fold((0.0, 0.0), |(heat, sum), (c, t)| (heat + c * t, sum + c));
    heat / capacity
}

/// The common temperature of waters (mass in kg, °C) and of other bodies (J/K, °C), with the enthalpy of real water.
///
/// It lies between the coldest and the hottest of them; where there are none it is NaN.
pub fn common_temperature_of_water(waters: &[(f64, f64)], bodies: &[(f64, f64)]) -> f64 {
    let all = || waters.iter().chain(bodies).map(|(_, t)| *t);
    let low = all().fold(f64::NAN, f64::min);
    let high = all().fold(f64::NAN, f64::max);
    root::falling(low, high, |t| {
        let of_waters: f64 = waters.iter().map(|(m, from)| m * (water::enthalpy(*from) - water::enthalpy(t))).sum();
        let of_bodies: f64 = bodies.iter().map(|(c, from)| c * (from - t)).sum();
        of_waters + of_bodies
    })
}

/// Specific heat capacity of a body from a mixing experiment: `c = C_cold (T − T_cold) / (m (T_hot − T))`, with the
/// heat capacity of water and calorimeter together (J/K).
pub fn capacity_of_body(cold: f64, cold_t: f64, mass: f64, hot_t: f64, common: f64) -> f64 {
    cold * (common - cold_t) / (mass * (hot_t - common))
}

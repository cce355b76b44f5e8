//! Newton's law of cooling in closed form. In: temperatures in °C, times in any one unit. Out: times and temperatures.
//! It must not know what cools: heat capacities and losses come from elsewhere.
//!
//! `dT/dt = −(T − T_a) / τ`, `τ = C / K`, hence `T = T_a + (T_0 − T_a) exp(−t / τ)`: a straight line of slope `−1/τ` in
//! `ln(T − T_a)` over t. Source: Newton's law of cooling, for losses in proportion to the temperature difference.

/// Temperature after a time: `T_a + (T_0 − T_a) exp(−t / τ)`.
pub fn after(start: f64, room: f64, constant: f64, time: f64) -> f64 {
    room + (start - room) * libm::exp(-time / constant)
}

/// Time to get from one temperature to another: `τ ln((T_1 − T_a) / (T_2 − T_a))`.
pub fn time_between(from: f64, to: f64, room: f64, constant: f64) -> f64 {
    constant * libm::log((from - room) / (to - room))
}

/// Time constant of a body that takes a time from one temperature to another: `τ = t / ln((T_1 − T_a) / (T_2 − T_a))`.
pub fn constant(from: f64, to: f64, room: f64, time: f64) -> f64 {
    time / libm::log((from - room) / (to - room))
}

/// The temperature that three readings in equal steps of time tend to: `(T_0 T_2 − T_1²) / (T_0 + T_2 − 2 T_1)`.
///
/// Derivation: the differences to the limit are three terms of a geometric series.
pub fn limit(first: f64, second: f64, third: f64) -> f64 {
    (first * third - second * second) / (first + third - 2.0 * second)
}

/// Specific heat capacity of a liquid that cools in the vessel in which water cooled before, from the times that both take
/// between the same temperatures: `c = ((m_w c_w + C_v) t / t_w − C_v) / m`.
///
/// Derivation: the loss is the same at each temperature, so times are in proportion to heat capacities.
pub fn capacity_by_comparison(mass: f64, time: f64, water_heat: f64, water_time: f64, vessel: f64) -> f64 {
    ((water_heat + vessel) * time / water_time - vessel) / mass
}

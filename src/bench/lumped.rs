//! Bodies of one temperature. In: heat capacity and heat transfer, times in s. Out: fractions, times, Biot numbers.
//! It must not know where the heat comes from.

/// Time constant of a body, `τ = C / K` in s, of its heat capacity (J/K) and its loss per kelvin (W/K).
pub fn time_constant(capacity: f64, loss_per_kelvin: f64) -> f64 {
    capacity / loss_per_kelvin
}

/// Time constant of a ball of diameter D in a stream, `τ = ρ c D / (6 h)` in s: volume over surface of a ball is `D / 6`.
pub fn ball_time_constant(diameter: f64, density: f64, heat_capacity: f64, coefficient: f64) -> f64 {
    density * heat_capacity * diameter / (6.0 * coefficient)
}

/// Biot number of a ball, `Bi = h (D/6) / k`; below 0.1 it has one temperature throughout.
///
/// Source: Incropera et al., chapter 5 (quoted from memory).
pub fn ball_biot(diameter: f64, coefficient: f64, conductivity: f64) -> f64 {
    coefficient * diameter / (6.0 * conductivity)
}

/// Share of the way to the limit that is covered after a time, `1 − exp(−t/τ)`.
pub fn covered(time: f64, constant: f64) -> f64 {
    -libm::expm1(-time / constant)
}

/// Time in s after which a share of the way to the limit is covered, `−τ ln(1 − s)`.
pub fn time_to_cover(share: f64, constant: f64) -> f64 {
    -constant * libm::log1p(-share)
}

/// Temperature after a time, `T_0 + (T_lim − T_0) (1 − exp(−t/τ))`.
pub fn after(time: f64, constant: f64, start: f64, limit: f64) -> f64 {
    start + (limit - start) * covered(time, constant)
}

/// Time in s in which a body of heat capacity C (J/K) gets from one temperature to another under a net power (W) that depends
/// on its temperature alone, `∫ C dT / P(T)`, by Simpson's rule. The power must not vanish on the way.
pub fn time_between(from: f64, to: f64, capacity: f64, power: impl Fn(f64) -> f64) -> f64 {
    const PARTS: u32 = 20_000;
    let step = (to - from) / f64::from(PARTS);
    let weight = |place: u32| match place {
        0 | PARTS => 1.0,
        _ if place % 2 == 1 => 4.0,
        _ => 2.0,
    };
    let sum: f64 = (0..=PARTS).map(|place| weight(place) / power(from + f64::from(place) * step)).sum();
    capacity * step / 3.0 * sum
}

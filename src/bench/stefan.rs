//! The front between solid and liquid in a slab that melts or freezes from one wall. In: material and times in SI.
//! Out: where the front is. It must not know a bench: the stores here are lumped, these relations say when that fails.
//!
//! One-phase problem of Stefan: the slab is at its melting point, one wall is `ΔT` away from it from time zero.
//! `Ste = c ΔT / L`, `s = 2 λ √(a t)`, `a = k / (ρ c)`, `λ exp(λ²) erf(λ) = Ste / √π`.
//! For small Ste the temperature between wall and front is a straight line: `s² = 2 k ΔT t / (ρ L)`.
//!
//! Sources: Carslaw and Jaeger, Conduction of Heat in Solids, section 11.2; Crank, Free and Moving Boundary Problems,
//! equation 3.14; the straight line is Stefan's law of ice.

use super::root;

/// Stefan number, `c ΔT / L`: sensible heat against latent heat, 1.
pub fn stefan_number(heat_capacity: f64, difference: f64, latent: f64) -> f64 {
    heat_capacity * difference / latent
}

/// The root λ of `λ exp(λ²) erf(λ) = Ste / √π` for `0 ≤ Ste < 10³`, 1.
pub fn neumann_root(stefan: f64) -> f64 {
    let wanted = stefan / libm::sqrt(std::f64::consts::PI);
    root::falling(0.0, 4.0, |root| wanted - root * libm::exp(root * root) * libm::erf(root))
}

/// Distance s of the front from the wall after `time` seconds, `2 λ √(a t)` in m, with the thermal diffusivity a in m²/s.
pub fn front(root: f64, diffusivity: f64, time: f64) -> f64 {
    2.0 * root * libm::sqrt(diffusivity * time)
}

/// Seconds in which a layer grows from one thickness to another (m) where its sensible heat does not count:
/// `ρ L (x_2² − x_1²) / (2 k ΔT)`, with ρ in kg/m³, L in J/kg, k in W/(m K).
pub fn growth_time(thickness: (f64, f64), density: f64, latent: f64, conductivity: f64, difference: f64) -> f64 {
    let (from, to) = thickness;
    density * latent * (to * to - from * from) / (2.0 * conductivity * difference)
}

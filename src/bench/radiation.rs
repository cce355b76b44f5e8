//! Thermal radiation of grey surfaces. In: temperatures in K, emittances, lengths in m. Out: powers per area in W/m², shares.
//! It must not know convection or conduction.

/// Stefan-Boltzmann constant σ, W/(m² K⁴). Source: CODATA 2018, exact in the SI of 2019.
pub const STEFAN_BOLTZMANN: f64 = 5.670_374_419e-8;

/// Zero of the Celsius scale, K (SI brochure, 2.3.1).
pub(crate) const KELVIN: f64 = 273.15;

/// Wien's displacement constant b, m K. Source: CODATA 2018, exact in the SI of 2019.
pub const WIEN: f64 = 2.897_771_955e-3;

/// Second radiation constant c_2 = h c / k, m K. Source: CODATA 2018, exact in the SI of 2019.
pub const SECOND_CONSTANT: f64 = 1.438_776_877e-2;

/// Radiation of a black body, `σ T⁴` in W/m² (Stefan and Boltzmann).
pub fn black(kelvin: f64) -> f64 {
    let square = kelvin * kelvin;
    STEFAN_BOLTZMANN * square * square
}

/// Net radiation of a small grey surface in a large room, `ε σ (T⁴ − T_a⁴)` in W/m².
///
/// Source: Kirchhoff's law for a grey surface in surroundings that act as a black body.
pub fn net(emittance: f64, surface: f64, room: f64) -> f64 {
    emittance * (black(surface) - black(room))
}

/// By how much that radiation grows per kelvin, `4 ε σ T³` in W/(m² K); with the mean temperature of surface and room it is
/// nearly the heat transfer coefficient of the radiation between them.
pub fn per_kelvin(emittance: f64, kelvin: f64) -> f64 {
    4.0 * emittance * STEFAN_BOLTZMANN * kelvin * kelvin * kelvin
}

/// Net radiation between two wide grey plates that face each other, `σ (T_1⁴ − T_2⁴) / (1/ε_1 + 1/ε_2 − 1)` in W/m².
///
/// Source: Çengel, Heat and Mass Transfer, chapter 13 (quoted from memory).
pub fn between_plates(first: (f64, f64), second: (f64, f64)) -> f64 {
    let ((warm, emits), (cool, takes)) = (first, second);
    (black(warm) - black(cool)) / (1.0 / emits + 1.0 / takes - 1.0)
}

/// Irradiance in W/m² at a distance from the middle of a black ball of temperature T, `σ T⁴ (r / d)²`; the sun is one.
pub fn from_ball(kelvin: f64, radius: f64, distance: f64) -> f64 {
    black(kelvin) * (radius / distance) * (radius / distance)
}

/// Temperature in K at which a surface radiates off what it absorbs (W/m²), `(q / (ε σ) + T_a⁴)^(1/4)`, nothing else lost.
pub fn equilibrium(absorbed: f64, emittance: f64, room: f64) -> f64 {
    let fourth = absorbed / (emittance * STEFAN_BOLTZMANN) + room * room * room * room;
    libm::sqrt(libm::sqrt(fourth))
}

/// Wavelength in m at which a black body radiates most, `b / T` (Wien).
pub fn brightest_wavelength(kelvin: f64) -> f64 {
    WIEN / kelvin
}

/// Share of a black body's radiation below a wavelength λ, of `λ T` in m K:
/// `F = 15/π⁴ ∫_x^∞ u³ / (e^u − 1) du` with `x = c_2 / (λ T)`.
///
/// Source: Planck's law, integrated term by term; for small x from the series of `u³ / (e^u − 1)` about zero.
pub fn share_below(wavelength_temperature: f64) -> f64 {
    let scale = 15.0 / libm::pow(std::f64::consts::PI, 4.0);
    let x = SECOND_CONSTANT / wavelength_temperature;
    if x < 0.5 {
        let square = x * x;
        let rest = 1.0 / 3.0 - x / 8.0 + square * (1.0 / 60.0 - square * (1.0 / 5040.0 - square / 272_160.0));
        return 1.0 - scale * x * square * rest;
    }
    // At x = 0.5 the hundredth term is below 1e-18.
    let term = |n: f64| {
        let power = ((x + 3.0 / n) * x + 6.0 / (n * n)) * x + 6.0 / (n * n * n);
        libm::exp(-n * x) / n * power
    };
    scale * (1..=100).rev().map(|n| term(f64::from(n))).sum::<f64>()
}

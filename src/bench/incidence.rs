//! Light that falls at a slant. In: angles in rad. Out: cosines and shares. It must know no collector.

use std::f64::consts::FRAC_PI_2;

/// Cosine of the angle of incidence on a plate tilted by β towards the azimuth γ, of a source at the zenith angle ζ and
/// the azimuth γ_s: `cos θ = cos β cos ζ + sin β sin ζ cos(γ_s − γ)`, zero where the light comes from behind.
///
/// Source: Duffie and Beckman, Solar Engineering of Thermal Processes, section 1.6 (quoted from memory).
pub fn cosine(tilt: f64, zenith: f64, apart: f64) -> f64 {
    let straight = libm::cos(tilt) * libm::cos(zenith);
    (straight + libm::sin(tilt) * libm::sin(zenith) * libm::cos(apart)).max(0.0)
}

/// Incidence angle modifier `K = 1 − b_0 (1/cos θ − 1)`: the absorbed share at a slant against that at square incidence;
/// zero where the formula would fall below it, which is beyond `cos θ = b_0 / (1 + b_0)`.
///
/// Source: Souka and Safwat, as in ASHRAE 93 and ISO 9806 (quoted from memory).
pub fn modifier(coefficient: f64, angle: f64) -> f64 {
    let cosine = libm::cos(angle);
    if cosine <= 0.0 {
        return if coefficient > 0.0 { 0.0 } else { 1.0 };
    }
    (1.0 - coefficient * (1.0 / cosine - 1.0)).max(0.0)
}

/// Irradiance on a plate turned by θ against that on a square one, in a beam that fans out evenly by ±δ in the plane in
/// which the plate is turned: `(sin(min(θ + δ, 90°)) − sin(θ − δ)) / (2 sin δ)`. It is `cos θ` until the outermost rays
/// graze the plate, and falls less steeply beyond.
///
/// Source: mean of `max(cos(θ + ε), 0)` over ε from −δ to δ, in closed form.
pub fn fanned_cosine(angle: f64, half_width: f64) -> f64 {
    if half_width <= 0.0 || angle + half_width <= FRAC_PI_2 {
        return libm::cos(angle).max(0.0);
    }
    if angle - half_width >= FRAC_PI_2 {
        return 0.0;
    }
    (1.0 - libm::sin(angle - half_width)) / (2.0 * libm::sin(half_width))
}

/// Beam on a plate that faces the equator as a multiple of that on level ground,
/// `R_b = (cos(φ − β) cos δ cos ω + sin(φ − β) sin δ) / (cos φ cos δ cos ω + sin φ sin δ)`, all angles in rad: latitude φ,
/// declination δ, tilt β, hour angle ω.
///
/// Source: Duffie and Beckman, Solar Engineering of Thermal Processes, section 1.8 (quoted from memory).
pub fn beam_ratio(latitude: f64, declination: f64, tilt: f64, hour: f64) -> f64 {
    let height = |latitude: f64| {
        libm::cos(latitude) * libm::cos(declination) * libm::cos(hour) + libm::sin(latitude) * libm::sin(declination)
    };
    height(latitude - tilt) / height(latitude)
}

//! The geometry of parabolic mirrors, and how far light can be concentrated. In: lengths in m, angles in rad. Out: the
//! same. It must know no light losses: those are [`super::Mirror`]'s.
//!
//! A trough of aperture a and focal length f has the section `y = x² / (4f)`. Sources: geometry of the parabola; Duffie
//! and Beckman, Solar Engineering of Thermal Processes, chapter 7 (quoted from memory).

use std::f64::consts::PI;

/// Focal length from aperture and depth of the rim, `f = a² / (16 h)`.
pub fn focal_length(aperture: f64, depth: f64) -> f64 {
    aperture * aperture / (16.0 * depth)
}

/// Depth of the rim below the line between the rims, `h = a² / (16 f)`.
pub fn depth(aperture: f64, focal: f64) -> f64 {
    aperture * aperture / (16.0 * focal)
}

/// Rim angle: between the axis and the line from focus to rim, `tan(φ/2) = a / (4f)`.
pub fn rim_angle(aperture: f64, focal: f64) -> f64 {
    2.0 * libm::atan(aperture / (4.0 * focal))
}

/// Distance of the focus from the mirror at a place x beside the axis, `r = f + x² / (4f)`.
pub fn mirror_distance(focal: f64, aside: f64) -> f64 {
    focal + aside * aside / (4.0 * focal)
}

/// Distance of the focus from the rim.
pub fn rim_radius(aperture: f64, focal: f64) -> f64 {
    mirror_distance(focal, aperture / 2.0)
}

/// Concentration by areas: aperture over the whole surface of the tube, `a / (π D)`. It counts for heat losses.
pub fn area_concentration(aperture: f64, tube: f64) -> f64 {
    aperture / (PI * tube)
}

/// Concentration by widths: aperture over diameter of the tube, `a / D`; π times the other.
pub fn width_concentration(aperture: f64, tube: f64) -> f64 {
    aperture / tube
}

/// The most that a trough can concentrate light from a source of half angle θ, `1 / sin θ`.
///
/// Source: Rabl 1976 (quoted from memory).
pub fn line_limit(half_angle: f64) -> f64 {
    1.0 / libm::sin(half_angle)
}

/// The most that a mirror or lens with a point focus can, `1 / sin² θ`.
pub fn point_limit(half_angle: f64) -> f64 {
    line_limit(half_angle) * line_limit(half_angle)
}

//! A parabolic trough that throws light on a tube. In: lengths in m, angles in rad, irradiance in W/m². Out: shares and
//! powers. It must not know what becomes of the heat.
//!
//! # Equations
//! A ray from the place x of the mirror, off by δ from the straight way, passes the middle of a tube that sits s behind the
//! focus at `s x/r + r δ`, with `r = f + x²/(4f)`; it hits where that is at most `D/2`. With δ spread evenly over `ε ± w`
//! the share `γ(x)` is how much of this range lies in `(±D/2 − s x/r) / r`; the mirror's mean is
//! `γ = 1/a ∫ γ(x) dx` over `D/2 < |x| < a/2`, the middle being in the shade of the tube.
//! Absorbed: `N = G L α [ρ a γ cos ε + σ D] cos θ K(θ) E(θ)`, end loss `E = 1 − (f + a²/(48f)) tan θ / L`, not below zero.
//!
//! | symbol | meaning | unit |
//! | --- | --- | --- |
//! | a, L, f | aperture, length, focal length of the trough | m |
//! | D, s | diameter of the tube, its middle behind the focus as seen from the mirror | m |
//! | ε | error of aim across the trough | rad |
//! | w | half width of source and surface errors together | rad |
//! | θ, K | angle of the light along the trough, incidence angle modifier | rad, 1 |
//! | ρ, α | reflectance of the mirror, absorptance of the tube with its glass if any | 1 |
//! | σ | share of the light straight from the sun that the tube's upper side takes up: 1 bare, 0 covered | 1 |
//!
//! Sources: geometry of the parabola; intercept factor and end loss: Duffie and Beckman, Solar Engineering of Thermal
//! Processes, chapter 7 (quoted from memory).
//!
//! # Validity
//! δ small (below 0.3 rad the sine is off by less than 2 %); light in one plane across the trough; tube centred on the axis.

use super::{incidence, parabola};

/// Places of the mirror on each side of the axis. Where the share bends, a place counts half too much or too little: with
/// so many the mean is exact to some 1e-7.
const PLACES: u32 = 8000;

/// A parabolic trough.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Mirror {
    /// Aperture a, m.
    pub aperture: f64,
    /// Length L, m.
    pub length: f64,
    /// Focal length f, m.
    pub focal: f64,
    /// Reflectance ρ, 1.
    pub reflectance: f64,
    /// Half width w of source and surface errors together, rad.
    pub spread: f64,
}

/// A tube in a trough.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Tube {
    /// Diameter D, m.
    pub diameter: f64,
    /// Absorptance α, 1.
    pub absorptance: f64,
    /// Share σ of the light straight from the sun that its upper side takes up, 1.
    pub direct_share: f64,
    /// Coefficient b_0 of the incidence angle modifier; 0 without glass, 1.
    pub incidence_coefficient: f64,
    /// Its middle behind the focus, as seen from the mirror, s, m.
    pub offset: f64,
}

impl Mirror {
    /// Share of the mirror's light that hits the tube at error of aim ε, without that in the tube's own shade, γ.
    pub fn intercept(&self, tube: &Tube, aim: f64) -> f64 {
        let (inner, outer) = (tube.diameter / 2.0, self.aperture / 2.0);
        let step = (outer - inner) / f64::from(PLACES);
        if step <= 0.0 {
            return 0.0;
        }
        let sum: f64 = (0..PLACES)
            .map(|place| {
                let aside = inner + (f64::from(place) + 0.5) * step;
                self.share(tube, aim, aside) + self.share(tube, aim, -aside)
            })
            .sum();
        sum * step / self.aperture
    }

    /// Share of the light from one place of the mirror that hits the tube.
    fn share(&self, tube: &Tube, aim: f64, aside: f64) -> f64 {
        let distance = parabola::mirror_distance(self.focal, aside);
        let middle = -tube.offset * aside / (distance * distance);
        let half = tube.diameter / (2.0 * distance);
        let low = (middle - half).max(aim - self.spread);
        let high = (middle + half).min(aim + self.spread);
        ((high - low) / (2.0 * self.spread)).clamp(0.0, 1.0)
    }

    /// Error of aim beyond which no light from the mirror hits a tube in the focal line, `D/(2f) + w`.
    pub fn acceptance(&self, diameter: f64) -> f64 {
        diameter / (2.0 * self.focal) + self.spread
    }

    /// What is left of the light that leaves over one end of the trough, E.
    pub fn end_share(&self, along: f64) -> f64 {
        let mean_distance = self.focal + self.aperture * self.aperture / (48.0 * self.focal);
        (1.0 - mean_distance * libm::tan(along) / self.length).max(0.0)
    }

    /// Area of the aperture, m².
    pub fn area(&self) -> f64 {
        self.aperture * self.length
    }

    /// Power that the tube absorbs at an irradiance, an error of aim across and an angle along the trough, N in W.
    pub fn absorbed(&self, tube: &Tube, irradiance: f64, aim: f64, along: f64) -> f64 {
        let mirrored = self.reflectance * self.aperture * self.intercept(tube, aim) * libm::cos(aim);
        let direct = tube.direct_share * tube.diameter;
        let slant = libm::cos(along) * incidence::modifier(tube.incidence_coefficient, along) * self.end_share(along);
        irradiance * self.length * tube.absorptance * (mirrored + direct) * slant
    }
}

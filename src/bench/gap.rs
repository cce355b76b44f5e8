//! The gap of air between a plate and its cover. In: temperatures in °C, lengths in m, angles in rad. Out: coefficients.
//! It must not know light.

use super::radiation::KELVIN;
use super::{air, radiation};

/// A gap of air between parallel plates.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Gap {
    /// Width L of the gap, m.
    pub width: f64,
    /// Tilt β of the plates against the level, rad; the warm one below.
    pub tilt: f64,
    /// Emittances of the plate and of its cover, 1.
    pub emittances: [f64; 2],
}

impl Gap {
    /// Nusselt number at a Rayleigh number,
    /// `1 + 1.44 [1 − 1708 (sin 1.8β)^1.6 / (Ra cos β)] [1 − 1708 / (Ra cos β)]⁺ + [(Ra cos β / 5830)^(1/3) − 1]⁺`,
    /// for tilts up to 75°.
    ///
    /// Source: Hollands et al., 1976, in Duffie and Beckman, section 3.11 (quoted from memory).
    pub fn nusselt(&self, rayleigh: f64) -> f64 {
        let share = rayleigh * libm::cos(self.tilt);
        if share <= 1708.0 {
            return 1.0;
        }
        let turned = libm::pow(libm::sin(1.8 * self.tilt), 1.6);
        let cells = 1.44 * (1.0 - 1708.0 * turned / share) * (1.0 - 1708.0 / share);
        1.0 + cells + (libm::cbrt(share / 5830.0) - 1.0).max(0.0)
    }

    /// Coefficient of conduction and convection in W/(m² K) between a warm plate and a cooler cover; still air where the
    /// cover is the warmer one.
    pub fn convection(&self, plate: f64, cover: f64) -> f64 {
        let fluid = air::fluid((plate + cover) / 2.0);
        let rayleigh = if plate > cover { fluid.rayleigh(plate - cover, self.width) } else { 0.0 };
        self.nusselt(rayleigh) * fluid.conductivity / self.width
    }

    /// Net radiation from plate to cover, W/m².
    pub fn radiated(&self, plate: f64, cover: f64) -> f64 {
        let [emits, takes] = self.emittances;
        radiation::between_plates((plate + KELVIN, emits), (cover + KELVIN, takes))
    }

    /// All heat that passes from plate to cover, W/m².
    pub fn passage(&self, plate: f64, cover: f64) -> f64 {
        self.convection(plate, cover) * (plate - cover) + self.radiated(plate, cover)
    }
}

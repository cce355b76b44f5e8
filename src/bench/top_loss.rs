//! Loss through the cover of a collector by an empirical rule. In: temperatures in °C, angle in rad. Out: W/(m² K).
//! It must not iterate: for a solved balance of plate and pane see [`super::cover_glass`] and [`super::gap`].

use super::radiation::{KELVIN, STEFAN_BOLTZMANN};

/// A collector with panes of glass, as far as its top loss goes.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Panes {
    /// Number N of panes.
    pub number: f64,
    /// Emittance of the plate, 1.
    pub plate_emittance: f64,
    /// Emittance of the glass, 1.
    pub glass_emittance: f64,
    /// Tilt β, rad, up to 70°.
    pub tilt: f64,
    /// Coefficient h_w from the outer pane to the air, W/(m² K).
    pub wind: f64,
}

impl Panes {
    /// Top loss coefficient U_t for a plate and air of given temperatures (°C); within 0.3 W/(m² K) of the solved balance
    /// for plates up to 200 °C.
    ///
    /// Source: Klein, 1979 (Duffie and Beckman, eq. 6.4.9): `f = (1 + 0.089 h_w − 0.1166 h_w ε_p) (1 + 0.07866 N)`,
    /// `C = 520 (1 − 0.000051 β²)` with β in degrees, `e = 0.430 (1 − 100/T_p)`.
    pub fn loss(&self, plate: f64, air: f64) -> f64 {
        let (n, wind) = (self.number, self.wind);
        let (plate, air) = (plate + KELVIN, air + KELVIN);
        let degrees = self.tilt.to_degrees();
        let f = (1.0 + 0.089 * wind - 0.1166 * wind * self.plate_emittance) * (1.0 + 0.07866 * n);
        let c = 520.0 * (1.0 - 0.000_051 * degrees * degrees);
        let e = 0.430 * (1.0 - 100.0 / plate);
        let gaps = n / (c / plate * libm::pow((plate - air) / (n + f), e)) + 1.0 / wind;
        let surfaces = 1.0 / (self.plate_emittance + 0.005_91 * n * wind)
            + (2.0 * n + f - 1.0 + 0.133 * self.plate_emittance) / self.glass_emittance
            - n;
        1.0 / gaps + STEFAN_BOLTZMANN * (plate + air) * (plate * plate + air * air) / surfaces
    }
}

//! An open surface of warm water. In: temperatures in °C, humidity as a share. Out: powers in W.
//! It must not take the evaporated water away: some grams an hour are left out of the balance.

/// Psychrometric constant at 101 325 Pa, Pa/K. Source: FAO Irrigation and Drainage Paper 56, equation 8 (from memory).
const PSYCHROMETRIC: f64 = 67.4;

/// Pressure of saturated vapour over water in Pa: `610.8 exp(17.27 t / (t + 237.3))`.
///
/// Source: FAO Irrigation and Drainage Paper 56, equation 11 (from memory); within 1 % of steam tables up to 60 °C, 3 % at
/// 95 °C.
pub fn saturation_pressure(t: f64) -> f64 {
    610.8 * libm::exp(17.27 * t / (t + 237.3))
}

/// An open surface of water.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct OpenSurface {
    /// Area A_o, m²; zero under a lid.
    pub area: f64,
    /// Film coefficient h_o of the air above, without radiation, W/(m² K).
    pub film: f64,
    /// Relative humidity φ of the room, 1.
    pub humidity: f64,
}

impl OpenSurface {
    /// Power given off by convection and evaporation: `A_o h_o ((T − T_a) + (p_s(T) − φ p_s(T_a)) / γ)`, W.
    ///
    /// Source: Bowen's ratio, which follows from the likeness of heat and mass transfer in air.
    pub fn loss(&self, water: f64, room: f64) -> f64 {
        if self.area <= 0.0 {
            return 0.0;
        }
        let vapour = saturation_pressure(water) - self.humidity * saturation_pressure(room);
        self.area * self.film * (water - room + vapour / PSYCHROMETRIC)
    }
}

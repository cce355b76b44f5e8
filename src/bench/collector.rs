//! A flat plate that absorbs light, loses heat to the room and passes heat to a stream of water.
//! In: temperatures in °C, irradiance in W/m². Out: powers in W. It must not store heat: stores are the bench's.

/// A flat-plate collector.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Collector {
    /// Area A of the absorber, m².
    pub area: f64,
    /// Optical efficiency η_0: share of the light that the plate absorbs, 1.
    pub optical_efficiency: f64,
    /// Linear loss coefficient a_1, W/(m² K).
    pub loss_linear: f64,
    /// Quadratic loss coefficient a_2, W/(m² K²).
    pub loss_quadratic: f64,
    /// Heat transfer UA from plate to water, W/K.
    pub transfer: f64,
}

impl Collector {
    /// Power absorbed, `A η_0 G`.
    pub fn gain(&self, irradiance: f64) -> f64 {
        self.area * self.optical_efficiency * irradiance
    }

    /// Power lost by a plate that is `excess` kelvin warmer than the room, `A (a_1 ΔT + a_2 ΔT |ΔT|)`.
    ///
    /// Source: the quadratic form of ISO 9806, written so that a plate below room temperature takes heat in.
    pub fn loss(&self, excess: f64) -> f64 {
        self.area * (self.loss_linear * excess + self.loss_quadratic * excess * excess.abs())
    }

    /// Steady-state efficiency of a plate `excess` kelvin above the room: `η_0 − a_1 ΔT/G − a_2 ΔT²/G`.
    ///
    /// Source: ISO 9806, steady-state test, with the mean absorber temperature.
    pub fn efficiency(&self, irradiance: f64, excess: f64) -> f64 {
        (self.gain(irradiance) - self.loss(excess)) / (self.area * irradiance)
    }

    /// Effectiveness of the passage from a plate of even temperature to a stream with heat capacity rate `rate` (W/K):
    /// `ε = 1 − exp(−UA / (ṁ c))`.
    ///
    /// Source: heat exchanger with one side at constant temperature (Duffie and Beckman, Solar Engineering of Thermal
    /// Processes, effectiveness relations; quoted from memory).
    pub fn effectiveness(&self, rate: f64) -> f64 {
        if rate > 0.0 { -libm::expm1(-self.transfer / rate) } else { 0.0 }
    }
}

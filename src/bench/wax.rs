//! Paraffin that melts and freezes. In: temperatures in °C or specific enthalpies. Out: the other, and how much is molten.
//! It must not know what warms it, nor how heat gets into it.
//!
//! Between the temperatures `T_s = T_m − w/2` and `T_l = T_m + w/2` solid and liquid coexist. The specific enthalpy is a
//! chain of straight lines, zero where melting begins:
//! `h = c_s (T − T_s)` in the solid, `h = (L/w + (c_s + c_l)/2) (T − T_s)` while it melts, `h = h_l + c_l (T − T_l)` in
//! the liquid with `h_l = L + w (c_s + c_l)/2`. For `w = 0` melting is a plateau at T_m with `h_l = L`.
//!
//! Sources: enthalpy method with a melting range: Alexiades and Solomon, Mathematical Modeling of Melting and Freezing
//! Processes (quoted from memory). Heats of fusion and melting points of single alkanes: CRC Handbook; of technical
//! paraffin (150-200 kJ/kg, 50-58 °C, range 2-4 K wide): from memory.

/// Temperatures that differ by less are the same: at a melting point that was added up, nothing is molten yet, K.
const SAME: f64 = 1e-9;

/// A paraffin.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Wax {
    /// Melting temperature T_m, the middle of the melting range, °C.
    pub melting: f64,
    /// Width w of the melting range, K; zero for a pure substance.
    pub range: f64,
    /// Heat of fusion L, J/kg.
    pub latent: f64,
    /// Specific heat capacity c_s of the solid, J/(kg K).
    pub solid: f64,
    /// Specific heat capacity c_l of the liquid, J/(kg K).
    pub liquid: f64,
}

impl Wax {
    /// Where melting begins, T_s in °C.
    pub fn solidus(&self) -> f64 {
        self.melting - self.range / 2.0
    }

    /// Where all is molten, T_l in °C.
    pub fn liquidus(&self) -> f64 {
        self.melting + self.range / 2.0
    }

    /// Specific enthalpy h_l that takes the solid at T_s to the liquid at T_l, J/kg.
    pub fn fusion(&self) -> f64 {
        self.latent + self.range * (self.solid + self.liquid) / 2.0
    }

    /// Specific enthalpy in J/kg at `t` °C; on a plateau that of the solid.
    pub fn enthalpy(&self, t: f64) -> f64 {
        if t <= self.solidus() + SAME {
            self.solid * (t - self.solidus())
        } else if t < self.liquidus() {
            self.fusion() * (t - self.solidus()) / self.range
        } else {
            self.fusion() + self.liquid * (t - self.liquidus())
        }
    }

    /// Heat in J/kg between two temperatures, `h(to) − h(from)`.
    pub fn heat(&self, from: f64, to: f64) -> f64 {
        self.enthalpy(to) - self.enthalpy(from)
    }

    /// How many times the heat of water the same mass of paraffin stores between two temperatures, 1.
    ///
    /// Around the melting point the gain is large; it shrinks as the span grows, as water's heat capacity is higher.
    pub fn gain_over_water(&self, from: f64, to: f64) -> f64 {
        self.heat(from, to) / (super::water::enthalpy(to) - super::water::enthalpy(from))
    }
}

//! A reflector lamp in front of a plate. In: its power and distance. Out: mean irradiance on the plate.
//! It must not know what the light falls on.

/// A lamp with a reflector.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Lamp {
    /// Electrical power P, W.
    pub power: f64,
    /// Share r of the power that leaves as light and near infrared, 1.
    pub radiant_share: f64,
    /// Gain g of the reflector: how much brighter its beam is than light in all directions, 1.
    pub gain: f64,
    /// Distance d_0 of the virtual source behind the front of the reflector, m.
    pub source_offset: f64,
    /// Mean over the plate as a share s of the irradiance in the middle of the spot, 1.
    pub evenness: f64,
}

impl Lamp {
    /// Mean irradiance in W/m² on a plate at distance d (m) from the front of the reflector:
    /// `G = s · g · r · P / (4 π (d + d_0)²)`.
    ///
    /// Source: inverse square law of a point source (DIN 5031-2) with a virtual source; gain and evenness of reflector
    /// lamps are common practice, no source.
    pub fn irradiance(&self, distance: f64) -> f64 {
        let reach = distance + self.source_offset;
        self.evenness * self.gain * self.radiant_share * self.power / (4.0 * std::f64::consts::PI * reach * reach)
    }
}

//! A reflector lamp in front of a plate. In: its power, distance and the time. Out: mean irradiance on the plate.
//! It must not know what the light falls on.

use super::Settings;

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
    /// Time constant τ_L with which the lamp comes to its full light after it is switched on, s; zero: at once.
    pub warm_up: f64,
}

impl Lamp {
    /// The lamp of a bench with the inputs `lamp_power`, `lamp_radiant_share`, `lamp_gain`, `lamp_source_offset` and `lamp_evenness`,
    /// warm from the start.
    pub(crate) fn of(settings: &Settings) -> Self {
        Self {
            power: settings.get("lamp_power"),
            radiant_share: settings.get("lamp_radiant_share"),
            gain: settings.get("lamp_gain"),
            source_offset: settings.get("lamp_source_offset"),
            evenness: settings.get("lamp_evenness"),
            warm_up: 0.0,
        }
    }

    /// The same on a bench with the input `lamp_warm_up` as well.
    pub(crate) fn warming(settings: &Settings) -> Self {
        Self { warm_up: settings.get("lamp_warm_up"), ..Self::of(settings) }
    }

    /// Mean irradiance in W/m² of the warm lamp on a plate at distance d (m) from the front of the reflector:
    /// `G = s · g · r · P / (4 π (d + d_0)²)`.
    ///
    /// Source: inverse square law of a point source, with a virtual source behind the reflector; gain, evenness and
    /// offset of reflector lamps are common practice, no source.
    pub fn irradiance(&self, distance: f64) -> f64 {
        let reach = distance + self.source_offset;
        self.evenness * self.gain * self.radiant_share * self.power / (4.0 * std::f64::consts::PI * reach * reach)
    }

    /// Share of its full light that the lamp gives `time` seconds after it is switched on: `1 − exp(−t / τ_L)`.
    ///
    /// Source: first-order warm-up; common practice, no source.
    pub fn brightness(&self, time: f64) -> f64 {
        if self.warm_up > 0.0 { -libm::expm1(-time / self.warm_up) } else { 1.0 }
    }
}

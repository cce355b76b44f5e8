//! Circulation without a pump, for a fluid of constant properties. In: fluid, tube, height, power. Out: flow and rise of
//! temperature. It must not know a bench; [`super::Thermosiphon`] takes the properties of water at each temperature.
//!
//! `g ρ β H ΔT = Δp(ṁ)` of [`super::Pipe`], `ΔT = P / (ṁ c)`. Without fittings
//! `ṁ = sqrt(g ρ² β H P π d⁴ / (128 μ L c))`. Source: balance of buoyancy and friction, closed form.

use super::{Fluid, Pipe, root};

/// A closed loop with a heater below and a cooler above.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Siphon {
    /// The fluid at the mean temperature.
    pub fluid: Fluid,
    /// Coefficient of expansion β, 1/K.
    pub expansion: f64,
    /// Specific heat capacity c, J/(kg K).
    pub heat_capacity: f64,
    /// The tube.
    pub pipe: Pipe,
    /// Height H of the middle of the cooler above the middle of the heater, m.
    pub height: f64,
    /// Gravity g, m/s².
    pub gravity: f64,
}

impl Siphon {
    /// Drive by buoyancy for a difference of temperature, Pa.
    pub fn drive(&self, difference: f64) -> f64 {
        self.gravity * self.fluid.density * self.expansion * self.height * difference
    }

    /// The mass flow for a power in W, kg/s: none where nothing drives it (no power, the cooler not above the heater, or a
    /// fluid that shrinks when warmed).
    pub fn flow(&self, power: f64) -> f64 {
        let push = self.drive(power / self.heat_capacity);
        if push.is_nan() || push <= 0.0 {
            return 0.0;
        }
        // Friction alone gives an upper bound, as fittings only slow the flow.
        let laminar = libm::sqrt(push / self.pipe.resistance(self.fluid));
        root::falling(0.0, 2.0 * laminar, |flow| push - flow * self.pipe.drop(self.fluid, flow))
    }

    /// The rise of temperature at the heater for a power in W, K; `None` where nothing flows.
    pub fn rise(&self, power: f64) -> Option<f64> {
        let flow = self.flow(power);
        (flow > 0.0).then(|| power / (flow * self.heat_capacity))
    }
}

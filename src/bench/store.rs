//! A stirred vessel of water with its wall and hoses. In: temperatures in °C. Out: heat capacity, loss, stored heat.
//! It must not know what warms it.

use super::water;

/// A vessel of evenly warm water.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Store {
    /// Mass m of the water, kg.
    pub(crate) water_mass: f64,
    /// Heat capacity C_v of vessel and hoses, J/K.
    pub(crate) vessel_capacity: f64,
    /// Loss K_v to the room per kelvin, W/K.
    pub(crate) loss_per_kelvin: f64,
}

impl Store {
    /// Heat capacity at `t` °C, `m c_p(t) + C_v` in J/K.
    pub(crate) fn capacity(&self, t: f64) -> f64 {
        self.capacity_with(water::heat_capacity(t))
    }

    /// The same with water of a known specific heat capacity, J/(kg K).
    pub(crate) fn capacity_with(&self, heat_capacity: f64) -> f64 {
        self.water_mass * heat_capacity + self.vessel_capacity
    }

    /// Heat in J that takes the vessel from one temperature to another, `m (h(t_2) − h(t_1)) + C_v (t_2 − t_1)`:
    /// the integral of [`Store::capacity`].
    pub(crate) fn stored(&self, from: f64, to: f64) -> f64 {
        self.water_mass * (water::enthalpy(to) - water::enthalpy(from)) + self.vessel_capacity * (to - from)
    }

    /// Power in W that a vessel `excess` kelvin warmer than the room loses, `K_v ΔT`.
    pub(crate) fn loss(&self, excess: f64) -> f64 {
        self.loss_per_kelvin * excess
    }
}

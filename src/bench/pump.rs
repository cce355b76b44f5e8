//! A small pump on direct current. In: voltage, current, share of its power that warms the water. Out: powers in W.
//! It must not set the flow: that is the bench's.

/// A pump as a source of heat.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Pump {
    /// Voltage U, V.
    pub(crate) voltage: f64,
    /// Current I, A.
    pub(crate) current: f64,
    /// Share φ of its power that ends as heat in the water: all but what the motor gives off to the room, 1.
    pub(crate) heat_share: f64,
}

impl Pump {
    /// Electrical power `U I`, W.
    pub(crate) fn power(&self) -> f64 {
        self.voltage * self.current
    }

    /// Heat that goes into the water, `φ U I`, W. The work of pumping ends there too, by friction in the loop.
    pub(crate) fn heat(&self) -> f64 {
        self.heat_share * self.power()
    }
}

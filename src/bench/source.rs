//! A source of voltage with a resistance of its own. In: its constants, a load in Ω. Out: voltage, current, power.
//! It must not know what makes the voltage.

/// A source with internal resistance.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Source {
    /// Voltage U_0 without a load, V.
    pub voltage: f64,
    /// Internal resistance R_i, Ω.
    pub resistance: f64,
}

impl Source {
    /// Current through a load, `U_0 / (R_i + R_L)`, A.
    pub fn current(&self, load: f64) -> f64 {
        self.voltage / (self.resistance + load)
    }

    /// Voltage across a load, `U_0 R_L / (R_i + R_L)`, V.
    pub fn voltage_at(&self, load: f64) -> f64 {
        self.current(load) * load
    }

    /// Power in a load, `U_0² R_L / (R_i + R_L)²`, W.
    pub fn power(&self, load: f64) -> f64 {
        self.voltage_at(load) * self.current(load)
    }

    /// The load that takes the most power: as large as the internal resistance, Ω.
    pub fn matched_load(&self) -> f64 {
        self.resistance
    }

    /// The most power that a load can take, `U_0² / (4 R_i)`, W.
    pub fn most_power(&self) -> f64 {
        self.power(self.matched_load())
    }
}

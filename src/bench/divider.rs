//! A voltage divider of two resistors. In: voltage in V, resistances in Ω. Out: voltages, currents, and the source that the
//! divider is to a load. It must not know what the load does.

use super::Source;

/// A divider; the load lies across the lower resistor.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Divider {
    /// Voltage U_0 across both resistors, V.
    pub voltage: f64,
    /// Resistance R_1 between the supply and the tap, Ω.
    pub top: f64,
    /// Resistance R_2 across which the output lies, Ω.
    pub bottom: f64,
}

impl Divider {
    /// A potentiometer whose slider stands at the share `slider` of its track, from the end at zero volts.
    pub fn potentiometer(voltage: f64, track: f64, slider: f64) -> Self {
        Self { voltage, top: track * (1.0 - slider), bottom: track * slider }
    }

    /// Output without a load, `U_0 R_2 / (R_1 + R_2)`, V.
    pub fn unloaded(&self) -> f64 {
        self.voltage * self.bottom / (self.top + self.bottom)
    }

    /// Output with a load of R_L Ω, `U_0 R_q / (R_1 + R_q)` with `R_q = R_2 R_L / (R_2 + R_L)`, V.
    pub fn loaded(&self, load: f64) -> f64 {
        let parallel = parallel(self.bottom, load);
        if self.top + parallel > 0.0 { self.voltage * parallel / (self.top + parallel) } else { 0.0 }
    }

    /// Current taken from the supply with a load, A. A divider of two zeros shorts the supply: infinite.
    pub fn supply_current(&self, load: f64) -> f64 {
        self.voltage / (self.top + parallel(self.bottom, load))
    }

    /// The source that a load sees: `U_0 R_2 / (R_1 + R_2)` behind `R_1 R_2 / (R_1 + R_2)`.
    ///
    /// Source: Thévenin's theorem.
    pub fn as_source(&self) -> Source {
        Source { voltage: self.unloaded(), resistance: parallel(self.top, self.bottom) }
    }
}

/// Two resistors in parallel, `R_1 R_2 / (R_1 + R_2)`, Ω.
pub fn parallel(one: f64, other: f64) -> f64 {
    if one + other > 0.0 { one * other / (one + other) } else { 0.0 }
}

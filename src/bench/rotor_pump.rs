//! A rotor pump in a line that lifts water. In: angular speed in rad/s. Out: flow in m³/s, pressures in Pa.
//! It must not know what turns the rotor.
//!
//! Pressure of the pump without flow `a ω²`; with a flow q the pump's own resistance counts with that of the line:
//! `a ω² = p_0 + b_1 q + b_2 q²`, thus `q = 2 (a ω² − p_0) / (b_1 + √(b_1² + 4 b_2 (a ω² − p_0)))`, and none below
//! `ω_0 = √(p_0 / a)`. Sources: similarity of rotor pumps (pressure ~ ω²); b_1 laminar and b_2 turbulent resistance,
//! common practice.

/// A pump with its line.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct RotorPump {
    /// Pressure a without flow per square of the angular speed, Pa s².
    pub pressure: f64,
    /// Pressure p_0 = ρ g h of the lift, Pa.
    pub lift: f64,
    /// Laminar resistance b_1 of pump and line, Pa s/m³.
    pub laminar: f64,
    /// Turbulent resistance b_2 of pump and line, Pa s²/m⁶; not both resistances may be zero.
    pub turbulent: f64,
}

impl RotorPump {
    /// Volume flow, m³/s.
    pub fn flow(&self, speed: f64) -> f64 {
        let rest = self.pressure * speed * speed - self.lift;
        if rest <= 0.0 {
            return 0.0;
        }
        2.0 * rest / (self.laminar + libm::sqrt(self.laminar * self.laminar + 4.0 * self.turbulent * rest))
    }

    /// Angular speed at which the flow begins, rad/s.
    pub fn starting_speed(&self) -> f64 {
        libm::sqrt(self.lift / self.pressure)
    }
}

/// How flow, pressure and power of a rotor pump change with its speed at a similar operating point: with the ratio, its
/// square, its cube. Source: affinity laws.
pub fn affinity(ratio: f64) -> (f64, f64, f64) {
    (ratio, ratio * ratio, ratio * ratio * ratio)
}

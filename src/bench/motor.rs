//! A small motor on direct current with permanent magnets. In: voltage in V, what its shaft drives. Out: speed, current.
//! It must not know where its voltage comes from.
//!
//! `U = I R_a + k ω`, torque `M = k I`. Source: motor with constant flux, common textbook form.

/// A motor by its two constants.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Motor {
    /// Resistance R_a of the armature, Ω.
    pub resistance: f64,
    /// Motor constant k: back voltage per angular speed, and torque per current, V s = N m/A.
    pub constant: f64,
}

/// What a shaft drives: `M = M_0 + c ω²`.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ShaftLoad {
    /// Torque M_0 that does not depend on the speed, N m.
    pub constant: f64,
    /// Coefficient c of the torque that grows with the square of the speed, N m s².
    pub quadratic: f64,
}

impl Motor {
    /// Angular speed in rad/s at a voltage; zero where the motor can not overcome the constant torque.
    ///
    /// From `k I = M_0 + c ω²`: `(c R_a / k) ω² + k ω = U − R_a M_0 / k`.
    pub fn speed(&self, voltage: f64, load: ShaftLoad) -> f64 {
        let rest = voltage - self.resistance * load.constant / self.constant;
        if rest <= 0.0 {
            return 0.0;
        }
        let bend = load.quadratic * self.resistance / self.constant;
        2.0 * rest / (self.constant + libm::sqrt(self.constant * self.constant + 4.0 * bend * rest))
    }

    /// Voltage at which the motor runs with an angular speed, V.
    pub fn voltage(&self, speed: f64, load: ShaftLoad) -> f64 {
        self.resistance * (load.constant + load.quadratic * speed * speed) / self.constant + self.constant * speed
    }

    /// Current at a voltage and an angular speed, `(U − k ω) / R_a`, A.
    pub fn current(&self, voltage: f64, speed: f64) -> f64 {
        (voltage - self.back_voltage(speed)) / self.resistance
    }

    /// Back voltage `k ω`, V.
    pub fn back_voltage(&self, speed: f64) -> f64 {
        self.constant * speed
    }

    /// Torque `k I`, N m.
    pub fn torque(&self, current: f64) -> f64 {
        self.constant * current
    }

    /// Current while the shaft is held, `U / R_a`, A.
    pub fn blocked_current(&self, voltage: f64) -> f64 {
        voltage / self.resistance
    }

    /// Mechanical over electrical power, `k ω / U`.
    pub fn efficiency(&self, voltage: f64, speed: f64) -> f64 {
        self.back_voltage(speed) / voltage
    }
}

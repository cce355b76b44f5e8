//! A thermoelectric module: couples between a hot and a cold face. In: temperatures of the faces in K, a current in A.
//! Out: voltages, heat flows, powers, and the best that such a module can do. It must not know what warms or cools it.
//!
//! # Equations
//! Seebeck: `U_0 = α (T_h − T_c)`. Heat from the hot face: `Q_h = α I T_h − R I²/2 + K (T_h − T_c)`. Heat to the cold face:
//! `Q_c = α I T_c + R I²/2 + K (T_h − T_c)`. Their difference is the electrical power, `Q_h − Q_c = α I (T_h − T_c) − R I²`.
//! The current is positive where the module generates; driven as a heat pump towards the hot face it is negative.
//!
//! | symbol | meaning | unit |
//! | --- | --- | --- |
//! | α, R, K | Seebeck coefficient, resistance, heat conductance of the module | V/K, Ω, W/K |
//! | T_h, T_c | temperatures of the faces, absolute | K |
//! | Z | figure of merit, `α² / (R K)` | 1/K |
//! | M | `√(1 + Z (T_h + T_c)/2)` | 1 |
//!
//! Source: lumped model with half of the Joule heat to each face; Ioffe, Semiconductor Thermoelements (from memory).
//! Validity: constant α, R and K, thus no Thomson heat; bismuth telluride between about 250 and 400 K.

/// Zero of the Celsius scale in kelvins.
pub(crate) const CELSIUS_ZERO: f64 = 273.15;

/// A module by its three constants.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Thermoelectric {
    /// Seebeck coefficient α of the whole module, V/K.
    pub seebeck: f64,
    /// Electrical resistance R, Ω.
    pub resistance: f64,
    /// Heat conductance K from face to face, W/K.
    pub conductance: f64,
}

impl Thermoelectric {
    /// The constants that follow from a data sheet's largest voltage, current and temperature difference (V, A, K), which
    /// hold for a hot face at `hot` K: `α = U/T_h`, `R = U (T_h − ΔT)/(I T_h)`, `K = U I (T_h − ΔT)/(2 T_h ΔT)`.
    ///
    /// Source: Lineykin and Ben-Yaakov 2007 (from memory).
    pub fn from_maxima(voltage: f64, current: f64, difference: f64, hot: f64) -> Self {
        let cold = hot - difference;
        Self {
            seebeck: voltage / hot,
            resistance: voltage * cold / (current * hot),
            conductance: voltage * current * cold / (2.0 * hot * difference),
        }
    }

    /// Figure of merit Z, 1/K.
    pub fn merit(&self) -> f64 {
        self.seebeck * self.seebeck / (self.resistance * self.conductance)
    }

    /// Voltage without a current, `α (T_h − T_c)`, V; negative where the faces are swapped.
    pub fn open_voltage(&self, hot: f64, cold: f64) -> f64 {
        self.seebeck * (hot - cold)
    }

    /// Voltage at the terminals, `α (T_h − T_c) − R I`, V.
    pub fn voltage(&self, hot: f64, cold: f64, current: f64) -> f64 {
        self.open_voltage(hot, cold) - self.resistance * current
    }

    /// Current through a load of `load` Ω, `α (T_h − T_c) / (R + R_L)`, A.
    pub fn current(&self, hot: f64, cold: f64, load: f64) -> f64 {
        self.open_voltage(hot, cold) / (self.resistance + load)
    }

    /// Electrical power given off, `U I`, W; negative for power taken up.
    pub fn power(&self, hot: f64, cold: f64, current: f64) -> f64 {
        self.voltage(hot, cold, current) * current
    }

    /// Heat Q_h that the module takes from its hot face, W.
    pub fn heat_in(&self, hot: f64, cold: f64, current: f64) -> f64 {
        self.seebeck * current * hot - self.joule_half(current) + self.conductance * (hot - cold)
    }

    /// Heat Q_c that the module gives to its cold face, W.
    pub fn heat_out(&self, hot: f64, cold: f64, current: f64) -> f64 {
        self.seebeck * current * cold + self.joule_half(current) + self.conductance * (hot - cold)
    }

    /// Efficiency as a generator, `P / Q_h`.
    pub fn efficiency(&self, hot: f64, cold: f64, current: f64) -> f64 {
        self.power(hot, cold, current) / self.heat_in(hot, cold, current)
    }

    /// Coefficient of performance as a cooler for a driving current (A, positive): heat taken from the cold face over
    /// electrical power. That as a heater is one more.
    pub fn cooling_performance(&self, hot: f64, cold: f64, driving: f64) -> f64 {
        let electrical = -self.power(hot, cold, -driving);
        -self.heat_out(hot, cold, -driving) / electrical
    }

    /// The driving current with the best coefficient of performance, `α ΔT / (R (M − 1))`, A.
    pub fn best_driving_current(&self, hot: f64, cold: f64) -> f64 {
        let ratio = load_ratio(self.merit(), hot, cold);
        self.open_voltage(hot, cold) / (self.resistance * (ratio - 1.0))
    }

    /// The driving current that cools most, `α T_c / R`, A.
    pub fn strongest_driving_current(&self, cold: f64) -> f64 {
        self.seebeck * cold / self.resistance
    }

    /// The most heat that can be taken from the cold face, `α² T_c² / (2 R) − K ΔT`, W.
    pub fn most_cooling(&self, hot: f64, cold: f64) -> f64 {
        let current = self.strongest_driving_current(cold);
        self.resistance * current * current / 2.0 - self.conductance * (hot - cold)
    }

    /// The largest temperature difference that the module can pump against without a heat load: the cold face at
    /// `Z T_c²/2 = T_h − T_c`, K.
    pub fn largest_difference(&self, hot: f64) -> f64 {
        let merit = self.merit();
        // The stable form of (√(1 + 2 Z T_h) − 1) / Z.
        hot - 2.0 * hot / (libm::sqrt(1.0 + 2.0 * merit * hot) + 1.0)
    }

    fn joule_half(&self, current: f64) -> f64 {
        self.resistance * current * current / 2.0
    }
}

/// The ratio M of load to internal resistance at which efficiency is best, `√(1 + Z (T_h + T_c)/2)`.
pub fn load_ratio(merit: f64, hot: f64, cold: f64) -> f64 {
    libm::sqrt(1.0 + merit * (hot + cold) / 2.0)
}

/// The best efficiency of a generator, `(1 − T_c/T_h) (M − 1) / (M + T_c/T_h)`.
pub fn best_efficiency(merit: f64, hot: f64, cold: f64) -> f64 {
    let ratio = load_ratio(merit, hot, cold);
    carnot_efficiency(hot, cold) * (ratio - 1.0) / (ratio + cold / hot)
}

/// The best coefficient of performance of a cooler, `T_c/(T_h − T_c) · (M − T_h/T_c) / (M + 1)`.
pub fn best_cooling_performance(merit: f64, hot: f64, cold: f64) -> f64 {
    let ratio = load_ratio(merit, hot, cold);
    carnot_cooling(hot, cold) * (ratio - hot / cold) / (ratio + 1.0)
}

/// No engine between two temperatures in K does better than `1 − T_c/T_h`.
pub fn carnot_efficiency(hot: f64, cold: f64) -> f64 {
    1.0 - cold / hot
}

/// No cooler between two temperatures in K does better than `T_c/(T_h − T_c)`.
pub fn carnot_cooling(hot: f64, cold: f64) -> f64 {
    cold / (hot - cold)
}

/// Heat that a current takes up or gives off at a junction, `S T I` in W, for a Seebeck coefficient S (V/K) of the pair.
///
/// Source: Kelvin's relation π = S T.
pub fn peltier_heat(seebeck: f64, temperature: f64, current: f64) -> f64 {
    seebeck * temperature * current
}

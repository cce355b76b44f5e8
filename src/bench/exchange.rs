//! How much heat passes between two streams, or from a stream to a store. In: transfer and heat capacity rates in W/K.
//! Out: effectiveness, number of transfer units, logarithmic mean, coefficients. It must know no bench and no water.
//!
//! Number of transfer units `NTU = UA / C_min`, ratio of heat capacity rates `C_r = C_min / C_max`, effectiveness ε: the heat
//! that passes as a share of the most that could, `Q = ε C_min (T_hot,in − T_cold,in)`.
//! Counterflow: `ε = (1 − e) / (1 − C_r e)` with `e = exp(−NTU (1 − C_r))`; for `C_r = 1` `ε = NTU / (1 + NTU)`.
//! Parallel flow: `ε = (1 − exp(−NTU (1 + C_r))) / (1 + C_r)`. One side of one temperature: `ε = 1 − exp(−NTU)`.
//! One shell pass and two tube passes: `ε = 2 / (1 + C_r + s (1 + e) / (1 − e))` with `s = √(1 + C_r²)`, `e = exp(−NTU s)`.
//! Crossed streams, neither mixed: `ε = 1 − exp(NTU^0.22 (exp(−C_r NTU^0.78) − 1) / C_r)`, an approximation.
//! With a logarithmic mean of the differences at both ends: `Q = UA ΔT_lm`.
//!
//! Sources: Kays and London, Compact Heat Exchangers, as in Incropera, Fundamentals of Heat and Mass Transfer, chapter 11, and
//! Cengel, Heat and Mass Transfer, chapter 11. Tubes: Dittus and Boelter, as in Incropera, chapter 8.

use super::root;

/// How two streams pass each other.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Arrangement {
    /// In opposite directions.
    Counter,
    /// In the same direction.
    Parallel,
    /// Once through a shell, to and fro through tubes in it.
    Shell,
    /// Across each other, neither of them mixed.
    Crossed,
}

/// Below this the ratio of heat capacity rates counts as one.
const NEAR_ONE: f64 = 1e-9;

/// Below this the ratio of heat capacity rates counts as zero.
const NEAR_ZERO: f64 = 1e-9;

/// No exchanger has more transfer units.
const MOST_UNITS: f64 = 1e3;

impl Arrangement {
    /// Effectiveness ε of a number of transfer units and a ratio of heat capacity rates from 0 to 1, 1.
    pub fn effectiveness(self, units: f64, ratio: f64) -> f64 {
        match self {
            Self::Parallel => -libm::expm1(-units * (1.0 + ratio)) / (1.0 + ratio),
            Self::Shell => {
                let root = libm::sqrt(1.0 + ratio * ratio);
                2.0 / (1.0 + ratio + root / libm::tanh(units * root / 2.0))
            }
            Self::Crossed if ratio < NEAR_ZERO => coil_effectiveness(units),
            Self::Crossed => {
                let fall = libm::expm1(-ratio * libm::pow(units, 0.78));
                -libm::expm1(libm::pow(units, 0.22) * fall / ratio)
            }
            Self::Counter if 1.0 - ratio < NEAR_ONE => units / (1.0 + units),
            Self::Counter => {
                let fall = -units * (1.0 - ratio);
                // 1 − C_r e is written with expm1 so that nothing is lost where the ratio is near one.
                -libm::expm1(fall) / ((1.0 - ratio) - ratio * libm::expm1(fall))
            }
        }
    }

    /// Number of transfer units of an effectiveness: the inverse of [`Arrangement::effectiveness`]; infinite or NaN where no
    /// exchanger reaches it.
    pub fn transfer_units(self, effectiveness: f64, ratio: f64) -> f64 {
        match self {
            Self::Parallel => -libm::log1p(-effectiveness * (1.0 + ratio)) / (1.0 + ratio),
            Self::Shell => {
                let root = libm::sqrt(1.0 + ratio * ratio);
                2.0 * libm::atanh(root / (2.0 / effectiveness - 1.0 - ratio)) / root
            }
            // Its relation cannot be solved for NTU.
            Self::Crossed => root::falling(0.0, MOST_UNITS, |units| effectiveness - self.effectiveness(units, ratio)),
            Self::Counter if 1.0 - ratio < NEAR_ONE => effectiveness / (1.0 - effectiveness),
            Self::Counter => libm::log1p(effectiveness * (1.0 - ratio) / (1.0 - effectiveness)) / (1.0 - ratio),
        }
    }

    /// By what the logarithmic mean of counterflow is multiplied, F: the transfer that counterflow would need for the same
    /// effectiveness, as a share of the transfer that is there, 1.
    pub fn correction(self, units: f64, ratio: f64) -> f64 {
        Self::Counter.transfer_units(self.effectiveness(units, ratio), ratio) / units
    }

    /// Differences of temperature at both ends, from inlets and outlets, K; for streams that are not along each other those
    /// of counterflow, whose mean is to be corrected.
    pub fn ends(self, hot: (f64, f64), cold: (f64, f64)) -> (f64, f64) {
        match self {
            Self::Counter | Self::Shell | Self::Crossed => (hot.0 - cold.1, hot.1 - cold.0),
            Self::Parallel => (hot.0 - cold.0, hot.1 - cold.1),
        }
    }
}

/// Effectiveness of a stream along a wall of one temperature, such as a coil in a stirred store, `1 − exp(−NTU)`, 1.
pub fn coil_effectiveness(units: f64) -> f64 {
    -libm::expm1(-units)
}

/// Number of transfer units of a coil in a stirred store, `−ln(1 − ε)`, 1.
pub fn coil_transfer_units(effectiveness: f64) -> f64 {
    -libm::log1p(-effectiveness)
}

/// Logarithmic mean of two positive differences of temperature, `(Δ_1 − Δ_2) / ln(Δ_1 / Δ_2)`, K.
pub fn log_mean((one, other): (f64, f64)) -> f64 {
    let relative = (one - other) / other;
    // The second-order series of x / ln(1 + x): exact to 1e-13 where the quotient loses its figures.
    if relative.abs() < 1e-6 { other * (1.0 + relative / 2.0) } else { (one - other) / libm::log1p(relative) }
}

/// Reynolds number of a stream ṁ (kg/s) in a round tube, `4 ṁ / (π D μ)`, 1.
pub fn tube_reynolds(flow: f64, diameter: f64, viscosity: f64) -> f64 {
    4.0 * flow / (std::f64::consts::PI * diameter * viscosity)
}

/// Nusselt number of turbulent flow in a tube that warms the stream, `0.023 Re^0.8 Pr^0.4` (Dittus and Boelter; Re above
/// 10⁴, within about 20 %), 1.
pub fn turbulent_nusselt(reynolds: f64, prandtl: f64) -> f64 {
    0.023 * libm::pow(reynolds, 0.8) * libm::pow(prandtl, 0.4)
}

/// Coefficient of two films on a thin wall, `1 / (1/h_1 + 1/h_2)`, W/(m² K).
pub fn overall_coefficient(one: f64, other: f64) -> f64 {
    1.0 / (1.0 / one + 1.0 / other)
}

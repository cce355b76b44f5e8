//! The f-chart correlation for liquid systems: the share of a month's heat load that a solar system with store covers.
//! In: the numbers X and Y and what makes them, in SI. Out: shares and corrections, 1. It must know no climate.
//!
//! Source: Klein, Beckman and Duffie, "A design procedure for solar heating systems", Solar Energy 18 (1976) 113; Duffie
//! and Beckman, Solar Engineering of Thermal Processes, chapter 20 (quoted from memory).

/// The store to which the correlation belongs, litres a square metre of collector.
pub const STANDARD_STORE: f64 = 75.0;

/// The stores for which the correction holds, litres a square metre.
pub const STORES: (f64, f64) = (37.5, 300.0);

/// The largest X and Y for which the correlation was made, 1.
pub const MOST_LOSS: f64 = 18.0;
/// See [`MOST_LOSS`].
pub const MOST_GAIN: f64 = 3.0;

/// The system and the month's load.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct System {
    /// Collector area A, m².
    pub area: f64,
    /// Intercept F_R (τα)_n of the collector's efficiency line, 1.
    pub gain: f64,
    /// Slope F_R U_L of that line, W/(m² K).
    pub loss: f64,
    /// Penalty F_R'/F_R of the heat exchanger between collector and store, 1.
    pub exchanger: f64,
    /// Mean (τα) over the month as a share of that at normal incidence, 1.
    pub incidence: f64,
    /// Heat load L of the month, J.
    pub load: f64,
    /// Length of the month, s.
    pub seconds: f64,
}

impl System {
    /// `X = A F_R U_L (F_R'/F_R) ΔT_ref Δt / L`: collector loss at a reference temperature difference (K) as a share of the
    /// load. For heating houses the difference is `100 °C − T_a`, for hot water [`water_heating_difference`].
    pub fn loss_ratio(&self, difference: f64) -> f64 {
        self.area * self.loss * self.exchanger * difference * self.seconds / self.load
    }

    /// `Y = A F_R (τα)_n (F_R'/F_R) ((τα)/(τα)_n) H N / L`: light absorbed as a share of the load; H N is the irradiation on
    /// the collector over the month, J/m².
    pub fn gain_ratio(&self, irradiation: f64) -> f64 {
        self.area * self.gain * self.exchanger * self.incidence * irradiation / self.load
    }
}

/// Reference difference when only water is heated, `11.6 + 1.18 T_w + 3.86 T_m − 2.32 T_a` in K, with the temperatures of
/// hot water, mains and outside air in °C.
pub fn water_heating_difference(hot: f64, mains: f64, air: f64) -> f64 {
    11.6 + 1.18 * hot + 3.86 * mains - 2.32 * air
}

/// By what X is multiplied for a store of other size (litres a square metre): `(V / 75)^(−1/4)`, from 37.5 to 300 L/m².
pub fn store_correction(litres_per_area: f64) -> f64 {
    libm::pow(litres_per_area / STANDARD_STORE, -0.25)
}

/// Share of the load covered, `f = 1.029 Y − 0.065 X − 0.245 Y² + 0.0018 X² + 0.0215 Y³`, from 0 to 1.
///
/// It holds up to [`MOST_LOSS`] and [`MOST_GAIN`]; there it rises with Y and falls with X.
pub fn share(loss_ratio: f64, gain_ratio: f64) -> f64 {
    let (x, y) = (loss_ratio, gain_ratio);
    let f = 1.029 * y - 0.065 * x - 0.245 * y * y + 0.0018 * x * x + 0.0215 * y * y * y;
    f.clamp(0.0, 1.0)
}

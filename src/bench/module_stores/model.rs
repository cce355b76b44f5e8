//! The balances of a module between two stores. In: settings, temperatures in °C. Out: powers, rates of change, the limit.
//! The limit must come from the same functions as the rates.

use super::super::{
    BenchError, Settings, Thermoelectric,
    integrate::{Balances, TOLERANCE, integrate},
    root,
    store::Store,
    thermoelectric::CELSIUS_ZERO,
};

/// A probe that follows within this time (s) counts as one without lag.
const NO_LAG: f64 = 0.1;

/// Stores and module in SI.
#[derive(Debug, Clone)]
pub(super) struct Model {
    heater: f64,
    hot: Store,
    cold: Store,
    module: Thermoelectric,
    load: f64,
    driven: f64,
    lag: f64,
    room: f64,
    start: (f64, f64),
}

impl Model {
    pub(super) fn new(settings: &Settings) -> Self {
        let of = |name| settings.get(name);
        let store = |water, capacity, loss| Store {
            water_mass: of(water),
            vessel_capacity: of(capacity),
            loss_per_kelvin: of(loss),
        };
        let room = of("room_temperature");
        Self {
            heater: of("heater_power"),
            hot: store("hot_water", "hot_capacity", "hot_loss"),
            cold: store("cold_water", "cold_capacity", "cold_loss"),
            module: Thermoelectric {
                seebeck: of("seebeck"),
                resistance: of("module_resistance"),
                conductance: of("conductance"),
            },
            load: of("load_resistance"),
            driven: of("supply_current"),
            lag: of("probe_lag"),
            room,
            start: (room + of("hot_start"), room + of("cold_start")),
        }
    }

    fn pumps(&self) -> bool {
        self.driven > 0.0
    }

    /// Minus one for a heat pump, whose current and power count from the supply's side.
    pub(super) fn sign(&self) -> f64 {
        if self.pumps() { -1.0 } else { 1.0 }
    }

    /// Current of the module as a generator, A.
    pub(super) fn current(&self, hot: f64, cold: f64) -> f64 {
        if self.pumps() { -self.driven } else { self.module.current(hot, cold, self.load) }
    }

    pub(super) fn voltage(&self, hot: f64, cold: f64) -> f64 {
        self.module.voltage(hot, cold, self.current(hot, cold))
    }

    /// Electrical power that the module gives off, W.
    pub(super) fn power(&self, hot: f64, cold: f64) -> f64 {
        self.module.power(hot, cold, self.current(hot, cold))
    }

    pub(super) fn heat_in(&self, hot: f64, cold: f64) -> f64 {
        self.module.heat_in(hot + CELSIUS_ZERO, cold + CELSIUS_ZERO, self.current(hot, cold))
    }

    pub(super) fn heat_out(&self, hot: f64, cold: f64) -> f64 {
        self.module.heat_out(hot + CELSIUS_ZERO, cold + CELSIUS_ZERO, self.current(hot, cold))
    }

    /// Temperature of the probe in the hot store, °C.
    pub(super) fn hot_probe(&self, state: &[f64; 6]) -> f64 {
        if self.lag < NO_LAG { state[0] } else { state[2] }
    }

    /// Temperature of the probe in the cold store, °C.
    pub(super) fn cold_probe(&self, state: &[f64; 6]) -> f64 {
        if self.lag < NO_LAG { state[1] } else { state[3] }
    }

    /// Heat stored since the start, J.
    pub(super) fn stored(&self, hot: f64, cold: f64) -> f64 {
        self.hot.stored(self.start.0, hot) + self.cold.stored(self.start.1, cold)
    }

    /// Hot store, cold store, their probes, energy supplied and lost (J) at each of the ascending times (s).
    pub(super) fn solve(&self, times: &[f64]) -> Result<Vec<[f64; 6]>, BenchError> {
        let (hot, cold) = self.start;
        integrate(self, [hot, cold, hot, cold, 0.0, 0.0], times, TOLERANCE)
    }

    /// Temperatures at which a generator changes no more, °C; none for a heat pump.
    ///
    /// For a difference D of the stores the current is known, and each balance is linear in its own temperature. What the
    /// two then differ by falls while D grows.
    pub(super) fn limit(&self) -> Option<(f64, f64)> {
        if self.pumps() {
            return None;
        }
        let apart = |difference: f64| match self.beside(difference) {
            Some((hot, cold)) => hot - cold - difference,
            // So much heat would be pumped to the cold store that it could not be lost: far too large a difference.
            None => -1.0,
        };
        self.beside(root::falling(0.0, self.heater / self.module.conductance, apart))
    }

    /// The stores that are in balance when they differ by `difference` K, °C.
    fn beside(&self, difference: f64) -> Option<(f64, f64)> {
        let current = self.current(difference, 0.0);
        let (peltier, joule) = (self.module.seebeck * current, self.module.resistance * current * current / 2.0);
        let leak = self.module.conductance * difference;
        let (hot_loss, cold_loss) = (self.hot.loss_per_kelvin, self.cold.loss_per_kelvin);
        // As excess over the room: α I T = α I (T − T_a) + α I T_a.
        let base = peltier * (self.room + CELSIUS_ZERO);
        let hot = (self.heater + joule - leak - base) / (peltier + hot_loss);
        let cold = (base + joule + leak) / (cold_loss - peltier);
        (cold_loss > peltier).then_some((self.room + hot, self.room + cold))
    }
}

impl Balances<6> for Model {
    /// States: hot store, cold store, probe in each, energy supplied, energy lost.
    fn rates(&self, _time: f64, &[hot, cold, hot_probe, cold_probe, ..]: &[f64; 6]) -> [f64; 6] {
        let (hot_loss, cold_loss) = (self.hot.loss(hot - self.room), self.cold.loss(cold - self.room));
        let power = self.power(hot, cold);
        let (from_supply, to_load) = if self.pumps() { (-power, 0.0) } else { (0.0, power) };
        let follow = |store: f64, probe: f64| if self.lag < NO_LAG { 0.0 } else { (store - probe) / self.lag };
        [
            (self.heater - self.heat_in(hot, cold) - hot_loss) / self.hot.capacity(hot),
            (self.heat_out(hot, cold) - cold_loss) / self.cold.capacity(cold),
            follow(hot, hot_probe),
            follow(cold, cold_probe),
            self.heater + from_supply,
            hot_loss + cold_loss + to_load,
        ]
    }
}

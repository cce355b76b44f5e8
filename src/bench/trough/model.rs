//! The balances of a tube with standing water in a trough. In: settings, temperatures in °C. Out: powers, rates, limit.
//! The limit must come from the same functions as the rates.

use super::parts;
use crate::bench::{
    BenchError, Collector, Settings,
    integrate::{Balances, TOLERANCE, integrate},
    root,
    store::Store,
};

/// No tube on the bench comes near this excess over the air, K.
const BEYOND: f64 = 1e4;

/// Tube and water in SI.
#[derive(Debug, Clone)]
pub(super) struct Model {
    pub(super) absorbed: f64,
    pub(super) surface: Collector,
    pub(super) capacity: f64,
    pub(super) water: Store,
    pub(super) lag: f64,
    pub(super) room: f64,
    pub(super) start: f64,
}

/// Tube, water, probe (°C), energy supplied and lost (J).
pub(super) type State = [f64; 5];

impl Model {
    /// The tube with its middle so many mm behind the focal line.
    pub(super) fn new(settings: &Settings, offset: f64) -> Self {
        let of = |name| settings.get(name);
        Self {
            absorbed: parts::absorbed(settings, offset),
            surface: parts::surface(settings, of("tube_transfer")),
            capacity: of("tube_capacity"),
            water: Store {
                water_mass: of("water_mass") / 1000.0,
                vessel_capacity: 0.0,
                loss_per_kelvin: of("end_loss"),
            },
            lag: of("probe_lag"),
            room: of("room_temperature"),
            start: of("room_temperature") + of("start_excess"),
        }
    }

    /// States at each of the ascending times (s).
    pub(super) fn solve(&self, times: &[f64]) -> Result<Vec<State>, BenchError> {
        integrate(self, [self.start, self.start, self.start, 0.0, 0.0], times, TOLERANCE)
    }

    /// What the probe shows: itself, or the water where it has no lag.
    pub(super) fn shown(&self, state: &State) -> f64 {
        if self.lag > 0.0 { state[2] } else { state[1] }
    }

    /// Heat that tube and water take up, W.
    pub(super) fn useful(&self, state: &State) -> f64 {
        self.absorbed - self.lost(state[0], state[1])
    }

    /// Heat stored since the start, J.
    pub(super) fn stored(&self, state: &State) -> f64 {
        self.capacity * (state[0] - self.start) + self.water.stored(self.start, state[1])
    }

    /// Temperatures of tube and water at which nothing would change if water could not boil, °C.
    pub(super) fn limit(&self) -> (f64, f64) {
        let (transfer, loss) = (self.surface.transfer, self.water.loss_per_kelvin);
        let beside = |tube: f64| (transfer * tube + loss * self.room) / (transfer + loss);
        let rest = |tube: f64| self.absorbed - self.lost(tube, beside(tube));
        let tube = root::falling(self.room, self.room + BEYOND, rest);
        (tube, beside(tube))
    }

    fn lost(&self, tube: f64, water: f64) -> f64 {
        self.surface.loss(tube - self.room) + self.water.loss(water - self.room)
    }
}

impl Balances<5> for Model {
    fn rates(&self, _time: f64, &[tube, water, probe, ..]: &State) -> State {
        let passage = self.surface.transfer * (tube - water);
        let lag = if self.lag > 0.0 { self.lag } else { f64::INFINITY };
        [
            (self.absorbed - self.surface.loss(tube - self.room) - passage) / self.capacity,
            (passage - self.water.loss(water - self.room)) / self.water.capacity(water),
            (water - probe) / lag,
            self.absorbed,
            self.lost(tube, water),
        ]
    }
}

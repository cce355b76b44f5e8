//! The balances of source, coil and store. In: settings, temperatures in °C. Out: powers, rates of change, the limit in SI.
//! The limit must come from the same functions as the rates.

use super::super::{
    BenchError, Settings, exchange,
    integrate::{Balances, integrate},
    root,
    store::Store,
    water,
};

/// No vessel on the bench comes near this excess over the room, K.
const BEYOND: f64 = 1e5;

/// A vessel and where it starts.
#[derive(Debug, Clone, Copy)]
pub(super) struct Vessel {
    pub(super) store: Store,
    pub(super) start: f64,
}

impl Vessel {
    /// Heat stored since the start, J.
    pub(super) fn stored(&self, t: f64) -> f64 {
        self.store.stored(self.start, t)
    }
}

/// Source, coil and store in SI.
#[derive(Debug, Clone, Copy)]
pub(super) struct Model {
    pub(super) flow: f64,
    pub(super) transfer: f64,
    pub(super) source: Vessel,
    pub(super) heater: f64,
    pub(super) store: Vessel,
    pub(super) room: f64,
    pub(super) probe_lag: f64,
}

impl Model {
    pub(super) fn new(settings: &Settings) -> Self {
        let of = |name| settings.get(name);
        let room = of("room_temperature");
        let vessel = |mass, capacity, loss, excess| Vessel {
            store: Store { water_mass: of(mass), vessel_capacity: of(capacity), loss_per_kelvin: of(loss) },
            start: room + of(excess),
        };
        Self {
            flow: of("flow") / 1000.0,
            transfer: of("coil_transfer"),
            source: vessel("source_mass", "source_capacity", "source_loss", "source_excess"),
            heater: of("heater_power"),
            store: vessel("store_mass", "store_capacity", "store_loss", "store_excess"),
            room,
            probe_lag: of("probe_lag"),
        }
    }

    /// Heat capacity rate of the stream, W/K.
    fn rate(&self, source: f64, store: f64) -> f64 {
        self.flow * water::heat_capacity((source + store) / 2.0)
    }

    /// Effectiveness of the coil, 1.
    pub(super) fn effectiveness(&self, source: f64, store: f64) -> f64 {
        exchange::coil_effectiveness(self.transfer / self.rate(source, store))
    }

    /// Heat that passes through the coil, W.
    pub(super) fn passed(&self, source: f64, store: f64) -> f64 {
        self.rate(source, store) * self.effectiveness(source, store) * (source - store)
    }

    /// Temperature of the water that leaves the coil, °C.
    pub(super) fn outlet(&self, source: f64, store: f64) -> f64 {
        source - self.effectiveness(source, store) * (source - store)
    }

    /// Source, store, probe (°C) and heat lost (J) at each of the ascending times (s).
    pub(super) fn solve(&self, times: &[f64], tolerance: f64) -> Result<Vec<[f64; 4]>, BenchError> {
        integrate(self, [self.source.start, self.store.start, self.store.start, 0.0], times, tolerance)
    }

    /// Temperatures of source and store at which nothing changes, °C. Both rise with each other, so that the source's rest
    /// falls as the store gets warmer.
    pub(super) fn limit(&self) -> (f64, f64) {
        let source_beside = |store: f64| {
            let needed = self.store.store.loss(store - self.room);
            root::falling(store, store + BEYOND, |source| needed - self.passed(source, store))
        };
        let store = root::falling(self.room, self.room + BEYOND, |store| {
            let source = source_beside(store);
            self.heater - self.source.store.loss(source - self.room) - self.store.store.loss(store - self.room)
        });
        (source_beside(store), store)
    }
}

impl Balances<4> for Model {
    /// States: source, store, probe, heat lost.
    fn rates(&self, _: f64, &[source, store, probe, _]: &[f64; 4]) -> [f64; 4] {
        let passed = self.passed(source, store);
        let (source_loss, store_loss) =
            (self.source.store.loss(source - self.room), self.store.store.loss(store - self.room));
        [
            (self.heater - passed - source_loss) / self.source.store.capacity(source),
            (passed - store_loss) / self.store.store.capacity(store),
            if self.probe_lag > 0.0 { (store - probe) / self.probe_lag } else { 0.0 },
            source_loss + store_loss,
        ]
    }
}

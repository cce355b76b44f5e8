//! The balances of the calorimeter before and after the body is put in. In: settings, temperatures in °C. Out: rates in SI.
//! What holds before and after must differ in the contact alone.

use super::super::{
    BenchError, Settings,
    integrate::{Balances, TOLERANCE, ascending, integrate},
    store::Store,
};

/// The calorimeter in SI.
#[derive(Debug, Clone, Copy)]
pub(super) struct Model {
    pub(super) store: Store,
    /// Heat capacity of the body, J/K.
    pub(super) body: f64,
    /// Heat transfer from body to water, W/K.
    pub(super) transfer: f64,
    /// When the body is put in, s.
    pub(super) entry: f64,
    pub(super) probe_lag: f64,
    pub(super) room: f64,
    pub(super) water_start: f64,
    pub(super) body_start: f64,
}

/// The calorimeter with the body outside (0 W/K) or inside.
struct Contact<'a> {
    model: &'a Model,
    transfer: f64,
}

impl Model {
    pub(super) fn new(settings: &Settings) -> Self {
        let of = |name| settings.get(name);
        Self {
            store: Store {
                water_mass: of("water_mass"),
                vessel_capacity: of("calorimeter_capacity"),
                loss_per_kelvin: of("loss"),
            },
            body: of("body_mass") * of("body_heat_capacity"),
            transfer: of("transfer"),
            entry: of("entry_time"),
            probe_lag: of("probe_lag"),
            room: of("room_temperature"),
            water_start: of("start_temperature"),
            body_start: of("body_temperature"),
        }
    }

    /// Temperatures of water, sensor and body, and the energy lost (J), at each of the ascending times (s). A reading at
    /// the very moment when the body is put in is one without it.
    pub(super) fn solve(&self, times: &[f64]) -> Result<Vec<[f64; 4]>, BenchError> {
        ascending(times)?;
        let start = [self.water_start, self.water_start, self.body_start, 0.0];
        let split = times.partition_point(|&time| time < self.entry);
        let (before, after) = times.split_at(split);
        let to_entry: Vec<f64> = before.iter().copied().chain([self.entry]).collect();
        let mut states = integrate(&Contact { model: self, transfer: 0.0 }, start, &to_entry, TOLERANCE)?;
        let at_entry = states.pop().unwrap_or(start);
        let since: Vec<f64> = after.iter().map(|time| time - self.entry).collect();
        states.extend(integrate(&Contact { model: self, transfer: self.transfer }, at_entry, &since, TOLERANCE)?);
        Ok(states)
    }

    /// Heat stored since the start in water, calorimeter and body, J.
    pub(super) fn stored(&self, water: f64, body: f64) -> f64 {
        self.store.stored(self.water_start, water) + self.body * (body - self.body_start)
    }
}

impl Balances<4> for Contact<'_> {
    /// States: water temperature, sensor temperature, body temperature, energy lost.
    fn rates(&self, _: f64, &[water, sensor, body, _]: &[f64; 4]) -> [f64; 4] {
        let passed = self.transfer * (body - water);
        let loss = self.model.store.loss(water - self.model.room);
        [
            (passed - loss) / self.model.store.capacity(water),
            (water - sensor) / self.model.probe_lag,
            -passed / self.model.body,
            loss,
        ]
    }
}

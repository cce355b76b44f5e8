//! The balance of one vessel. In: settings, temperatures in °C. Out: powers, rates of change and the limit in SI.
//! The limit must come from the same functions as the rates.

use super::super::{
    BenchError, Settings,
    evaporation::OpenSurface,
    insulation::Wall,
    integrate::{Balances, TOLERANCE, integrate},
    root,
    store::Store,
};
use super::HIGHEST;

/// No vessel comes nearer to its limit than this above and below the room, K.
const BEYOND: (f64, f64) = (40.0, 1e6);

/// A vessel in SI.
#[derive(Debug, Clone, Copy)]
pub(in crate::bench) struct Model {
    pub(in crate::bench) store: Store,
    pub(in crate::bench) surface: OpenSurface,
    /// Electrical power of the heater, W.
    pub(in crate::bench) heater: f64,
    /// Share of it that ends in the water, 1.
    pub(in crate::bench) heat_share: f64,
    pub(in crate::bench) probe_lag: f64,
    pub(in crate::bench) room: f64,
    pub(in crate::bench) start: f64,
}

impl Model {
    pub(super) fn new(settings: &Settings) -> Self {
        let of = |name| settings.get(name);
        let wall = Wall {
            area: of("wall_area"),
            film: of("film"),
            thickness: of("layer_thickness"),
            conductivity: of("layer_conductivity"),
        };
        Self {
            store: Store {
                water_mass: of("water_mass"),
                vessel_capacity: of("vessel_capacity"),
                loss_per_kelvin: wall.loss_per_kelvin() + of("lid_loss"),
            },
            surface: OpenSurface { area: of("open_area"), film: of("surface_film"), humidity: of("humidity") },
            heater: of("heater_voltage") * of("heater_current"),
            heat_share: of("heater_heat_share"),
            probe_lag: of("probe_lag"),
            room: of("room_temperature"),
            start: of("start_temperature"),
        }
    }

    /// Heat given off to the room by wall, lid and surface, W.
    pub(in crate::bench) fn loss(&self, water: f64) -> f64 {
        self.store.loss(water - self.room) + self.surface.loss(water, self.room)
    }

    /// Water temperature, sensor temperature, energy supplied and lost (J) at each of the ascending times (s).
    ///
    /// # Errors
    /// [`BenchError::TooHot`] where the water comes too near to boiling.
    pub(in crate::bench) fn solve(&self, times: &[f64]) -> Result<Vec<[f64; 4]>, BenchError> {
        let states = integrate(self, [self.start, self.start, 0.0, 0.0], times, TOLERANCE)?;
        let hottest = states.iter().map(|state| state[0]).fold(self.start, f64::max);
        if hottest <= HIGHEST { Ok(states) } else { Err(BenchError::TooHot { limit: hottest, highest: HIGHEST }) }
    }

    /// Temperature at which nothing changes any more, °C.
    pub(in crate::bench) fn limit(&self) -> f64 {
        root::falling(self.room - BEYOND.0, self.room + BEYOND.1, |water| self.rest(water))
    }

    /// What is left for warming the vessel, W.
    fn rest(&self, water: f64) -> f64 {
        self.heat_share * self.heater - self.loss(water)
    }
}

impl Balances<4> for Model {
    /// States: water temperature, sensor temperature, energy supplied, energy lost.
    fn rates(&self, _: f64, &[water, sensor, ..]: &[f64; 4]) -> [f64; 4] {
        [
            self.rest(water) / self.store.capacity(water),
            (water - sensor) / self.probe_lag,
            self.heater,
            self.loss(water) + (1.0 - self.heat_share) * self.heater,
        ]
    }
}

//! The balances of the pumped loop. In: settings, temperatures in °C. Out: powers, rates of change and the limit in SI.
//! The limit must come from the same functions as the rates.

use super::super::{
    BenchError, Collector, Lamp, Settings,
    integrate::{Balances, integrate},
    pump::Pump,
    root,
    store::Store,
    water,
};

/// No plate on the bench comes near this excess over the room, K.
const BEYOND: f64 = 1e4;

/// The loop in SI.
#[derive(Debug, Clone)]
pub(super) struct Model {
    pub(super) lamp: Lamp,
    /// Irradiance of the warm lamp, W/m².
    pub(super) light: f64,
    pub(super) collector: Collector,
    pub(super) plate_capacity: f64,
    pub(super) store: Store,
    pub(super) pump: Pump,
    pub(super) flow: f64,
    pub(super) room: f64,
    pub(super) start: f64,
}

impl Model {
    pub(super) fn new(settings: &Settings) -> Self {
        let of = |name| settings.get(name);
        let lamp = Lamp::warming(settings);
        Self {
            lamp,
            light: lamp.irradiance(of("lamp_distance")),
            collector: Collector {
                area: of("plate_area"),
                optical_efficiency: of("optical_efficiency"),
                loss_linear: of("loss_linear"),
                loss_quadratic: of("loss_quadratic"),
                transfer: of("plate_transfer"),
            },
            plate_capacity: of("plate_capacity"),
            store: Store {
                water_mass: of("water_mass"),
                vessel_capacity: of("vessel_capacity"),
                loss_per_kelvin: of("vessel_loss"),
            },
            pump: Pump { voltage: of("pump_voltage"), current: of("pump_current"), heat_share: of("pump_heat_share") },
            flow: of("flow") / 1000.0,
            room: of("room_temperature"),
            start: of("room_temperature") + of("start_excess"),
        }
    }

    /// Irradiance on the plate at a time in s, W/m².
    pub(super) fn irradiance(&self, time: f64) -> f64 {
        self.lamp.brightness(time) * self.light
    }

    /// Volume flow with water of a temperature, mL/s.
    pub(super) fn volume_flow(&self, water: f64) -> f64 {
        1e6 * self.flow / water::density(water)
    }

    /// Heat that passes from plate to stream, W.
    pub(super) fn passage(&self, plate: f64, water: f64) -> f64 {
        self.coupling(plate, water) * (plate - water)
    }

    /// Temperature of the water that leaves the collector, °C.
    pub(super) fn outlet(&self, plate: f64, water: f64) -> f64 {
        water + self.passage(plate, water) / self.rate(water)
    }

    /// Heat stored since the start, J.
    pub(super) fn stored(&self, plate: f64, water: f64) -> f64 {
        self.plate_capacity * (plate - self.start) + self.store.stored(self.start, water)
    }

    /// Plate temperature, water temperature, energy supplied and lost (J) at each of the ascending times (s).
    pub(super) fn solve(&self, times: &[f64], tolerance: f64) -> Result<Vec<[f64; 4]>, BenchError> {
        integrate(self, [self.start, self.start, 0.0, 0.0], times, tolerance)
    }

    /// Temperatures of plate and water at which nothing changes once the lamp is warm, °C.
    ///
    /// With the water that keeps the vessel in balance, what is left on the plate falls as the plate gets warmer.
    pub(super) fn limit(&self) -> (f64, f64) {
        let plate = root::falling(self.room, self.room + BEYOND, |plate| {
            self.plate_rest(self.light, plate, self.passage(plate, self.water_beside(plate)))
        });
        (plate, self.water_beside(plate))
    }

    /// Temperature of the water that keeps the vessel in balance beside a plate, °C.
    fn water_beside(&self, plate: f64) -> f64 {
        // The coupling hardly depends on the water's temperature: a round gains two digits or more.
        const ROUNDS: usize = 10;
        let loss = self.store.loss_per_kelvin;
        let mut water = plate;
        for _ in 0..ROUNDS {
            let coupling = self.coupling(plate, water);
            let before = water;
            water = (coupling * plate + loss * self.room + self.pump.heat()) / (coupling + loss);
            if water == before {
                break;
            }
        }
        water
    }

    /// Heat capacity rate of the stream, W/K.
    fn rate(&self, water: f64) -> f64 {
        self.flow * water::heat_capacity(water)
    }

    /// Heat that the stream takes per kelvin between plate and water, W/K.
    fn coupling(&self, plate: f64, water: f64) -> f64 {
        self.collector.coupling(self.rate(water), plate - self.room)
    }

    /// What is left on a plate that passes on some heat (W), W.
    fn plate_rest(&self, light: f64, plate: f64, passage: f64) -> f64 {
        self.collector.gain(light) - self.collector.loss(plate - self.room) - passage
    }
}

impl Balances<4> for Model {
    /// States: plate temperature, water temperature, energy supplied, energy lost.
    fn rates(&self, time: f64, &[plate, water, ..]: &[f64; 4]) -> [f64; 4] {
        let light = self.irradiance(time);
        let heat_capacity = water::heat_capacity(water);
        let excess = plate - self.room;
        let passage = self.collector.coupling(self.flow * heat_capacity, excess) * (plate - water);
        let (gain, loss) = (self.collector.gain(light), self.collector.loss(excess));
        let (heat, vessel_loss) = (self.pump.heat(), self.store.loss(water - self.room));
        [
            (gain - loss - passage) / self.plate_capacity,
            (passage + heat - vessel_loss) / self.store.capacity_with(heat_capacity),
            gain + heat,
            loss + vessel_loss,
        ]
    }
}

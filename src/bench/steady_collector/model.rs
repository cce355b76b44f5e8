//! The steady balance of plate and stream. In: settings, flow, inlet. Out: temperatures and powers in SI.

use super::super::{BenchError, Collector, Lamp, Settings, root, water};

/// The highest temperature of the water, °C.
const WATER_HIGHEST: f64 = 95.0;
/// The highest temperature of the plate, °C.
const PLATE_HIGHEST: f64 = 150.0;
/// No plate on the bench comes near this excess over the room, K.
const BEYOND: f64 = 1e4;

/// A collector under its lamp.
pub(super) struct Model {
    light: f64,
    collector: Collector,
    pub(super) room: f64,
}

impl Model {
    pub(super) fn new(settings: &Settings) -> Self {
        let of = |name| settings.get(name);
        let lamp = Lamp::of(settings);
        Self {
            light: lamp.irradiance(of("lamp_distance")),
            collector: Collector {
                area: of("plate_area"),
                optical_efficiency: of("optical_efficiency"),
                loss_linear: of("loss_linear"),
                loss_quadratic: of("loss_quadratic"),
                transfer: of("plate_transfer"),
            },
            room: of("room_temperature"),
        }
    }

    /// The bench's states for a flow in kg/s and an inlet in °C.
    ///
    /// # Errors
    /// [`BenchError::TooHot`] or [`BenchError::Overheated`] with the temperature that would be reached.
    pub(super) fn steady(&self, flow: f64, inlet: f64) -> Result<[f64; 8], BenchError> {
        let (collector, light, room) = (&self.collector, self.light, self.room);
        let rate = flow * water::heat_capacity(inlet);
        let useful = |plate: f64| {
            if rate > 0.0 { collector.coupling(rate, plate - room) * (plate - inlet) } else { 0.0 }
        };
        let plate = root::falling(room.min(inlet), room.max(inlet) + BEYOND, |plate| {
            collector.gain(light) - collector.loss(plate - room) - useful(plate)
        });
        if plate > PLATE_HIGHEST {
            return Err(BenchError::Overheated { part: "plate", reached: plate, highest: PLATE_HIGHEST });
        }
        let outlet = if rate > 0.0 { inlet + useful(plate) / rate } else { plate };
        if flow > 0.0 && outlet.max(inlet) > WATER_HIGHEST {
            return Err(BenchError::TooHot { limit: outlet.max(inlet), highest: WATER_HIGHEST });
        }
        let efficiency = useful(plate) / (collector.area * light);
        Ok([outlet, inlet, plate, 1000.0 * flow, useful(plate), efficiency, light, room])
    }
}

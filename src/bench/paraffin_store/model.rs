//! The paraffin store in SI. In: settings. Out: its enthalpy curve and its balance. It must not follow them in time.

use super::super::{Settings, Wax};

/// Paraffin in a vessel with a heater on its wall.
#[derive(Debug, Clone, Copy)]
pub(in crate::bench) struct Model {
    pub(in crate::bench) wax: Wax,
    pub(in crate::bench) mass: f64,
    pub(in crate::bench) supercooling: f64,
    pub(in crate::bench) vessel_capacity: f64,
    pub(in crate::bench) loss_per_kelvin: f64,
    pub(in crate::bench) resistance: f64,
    pub(in crate::bench) power: f64,
    pub(in crate::bench) heating_time: f64,
    pub(in crate::bench) room: f64,
    pub(in crate::bench) start: f64,
    pub(in crate::bench) probe_lag: f64,
}

/// A straight stretch of the curve of temperature over enthalpy.
#[derive(Debug, Clone, Copy)]
pub(super) struct Stretch {
    /// Its ends, J.
    pub(super) ends: (f64, f64),
    /// A point on it: enthalpy in J and temperature in °C.
    pub(super) point: (f64, f64),
    /// Kelvins per joule: the reciprocal of the heat capacity, zero on a plateau.
    pub(super) steepness: f64,
}

impl Stretch {
    /// Temperature at an enthalpy, °C.
    pub(super) fn temperature(&self, enthalpy: f64) -> f64 {
        self.point.1 + self.steepness * (enthalpy - self.point.0)
    }
}

impl Model {
    pub(super) fn new(settings: &Settings) -> Self {
        let of = |name| settings.get(name);
        Self {
            wax: Wax {
                melting: of("melting_temperature"),
                range: of("melting_range"),
                latent: 1000.0 * of("latent_heat"),
                solid: of("solid_heat_capacity"),
                liquid: of("liquid_heat_capacity"),
            },
            mass: of("paraffin_mass"),
            supercooling: of("supercooling"),
            vessel_capacity: of("vessel_capacity"),
            loss_per_kelvin: of("loss"),
            resistance: of("wall_resistance"),
            power: of("heater_voltage") * of("heater_current"),
            heating_time: of("heating_time"),
            room: of("room_temperature"),
            start: of("room_temperature") + of("start_excess"),
            probe_lag: of("probe_lag"),
        }
    }

    /// Enthalpy of paraffin and vessel at `t` °C, zero where melting begins, J; on a plateau that of the solid.
    pub(super) fn enthalpy(&self, t: f64) -> f64 {
        self.mass * self.wax.enthalpy(t) + self.vessel_capacity * (t - self.wax.solidus())
    }

    /// Enthalpy at which the last solid is gone, J.
    pub(super) fn molten(&self) -> f64 {
        self.mass * self.wax.fusion() + self.vessel_capacity * self.wax.range
    }

    /// Heat capacity of vessel and liquid paraffin, J/K.
    fn liquid_capacity(&self) -> f64 {
        self.mass * self.wax.liquid + self.vessel_capacity
    }

    /// Enthalpy at which a supercooled liquid begins to freeze, J.
    pub(super) fn nucleation(&self) -> f64 {
        self.molten() - self.liquid_capacity() * self.supercooling
    }

    /// The stretch on which the store is at an enthalpy, and where it is going on the border of two.
    pub(super) fn stretch(&self, enthalpy: f64, seeded: bool, rising: bool) -> Stretch {
        let (begin, end) = (0.0, self.molten());
        let below = |border: f64| enthalpy < border || (enthalpy <= border && !rising);
        let liquid = Stretch {
            ends: (if seeded { end } else { self.nucleation() }, f64::INFINITY),
            point: (end, self.wax.liquidus()),
            steepness: 1.0 / self.liquid_capacity(),
        };
        if !seeded {
            liquid
        } else if below(begin) {
            let capacity = self.mass * self.wax.solid + self.vessel_capacity;
            Stretch { ends: (f64::NEG_INFINITY, begin), point: (begin, self.wax.solidus()), steepness: 1.0 / capacity }
        } else if below(end) {
            Stretch { ends: (begin, end), point: (begin, self.wax.solidus()), steepness: self.wax.range / end }
        } else {
            liquid
        }
    }

    /// Heat that goes into the paraffin at a temperature, `(P − K_v (T − T_a)) / (1 + K_v R)` in W.
    pub(super) fn intake(&self, power: f64, t: f64) -> f64 {
        (power - self.loss_per_kelvin * (t - self.room)) * self.share()
    }

    /// Temperature of the wall, `T + R Q` in °C.
    pub(super) fn wall(&self, power: f64, t: f64) -> f64 {
        t + self.resistance * self.intake(power, t)
    }

    /// By how much the heat taken in falls per kelvin, W/K.
    pub(super) fn intake_slope(&self) -> f64 {
        self.loss_per_kelvin * self.share()
    }

    fn share(&self) -> f64 {
        1.0 / (1.0 + self.loss_per_kelvin * self.resistance)
    }
}

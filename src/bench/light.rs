//! A lamp before a light meter on a rail. In: its settings and distances in m. Out: irradiance at each of them.
//! It must not read instruments: what a light meter shows is made elsewhere.
//!
//! # Equations
//! Reach: `D = d + d_0`, from the virtual source behind the front of the lamp to the meter.
//! Lamp: `G_L = s g r P / (4 π D²) · 1 / (1 + (R/D)²) · (1 + (x/D)²)^(−3/2)`, see [`super::Lamp`] and [`super::light_law`].
//! Meter: `G = G_L + G_s`.
//! A thin black plate in place of the meter, at the temperature of the room: `dT/dt = α G / c_A`.
//!
//! | symbol | meaning | unit |
//! | --- | --- | --- |
//! | d | distance from the front of the lamp to the meter | m |
//! | d_0 | virtual source behind the front of the lamp | m |
//! | s, g, r, P | lamp, see [`super::Lamp`] | 1, 1, 1, W |
//! | R | radius of the bright disc that the reflector shows | m |
//! | x | meter beside the axis of the lamp | m |
//! | G_L, G_s, G | irradiance from the lamp, from the room, together | W/m² |
//! | α, c_A | absorptance of the plate, its heat capacity by area | 1, J/(m² K) |
//!
//! Sources: inverse square law, cosine law, Lambertian disc on its axis (quoted from memory); the virtual source of a
//! reflector lamp is common practice, no source.
//!
//! # Validity
//! The lamp warm; the virtual source at least 1 cm from the meter; the meter small against the distance and, where it
//! stands beside the axis, the disc small too; meter and lamp square to each other; no walls that reflect.
//! Heat does not flow on this bench, so it keeps no energy ledger.

use super::{Bench, BenchError, Input, Lamp, Run, Settings, State, input, integrate::ascending, light_law};

/// The nearest that the virtual source may come to the meter, and the end of the rail, m.
const REACH: (f64, f64) = (0.01, 5.0);

/// The lamp before a light meter.
#[derive(Debug, Clone, Copy)]
pub struct LampLight;

static INPUTS: &[Input] = &[
    input("lamp_power", "W", 120.0, (5.0, 500.0), "electrical power of the lamp"),
    input("lamp_radiant_share", "1", 0.85, (0.3, 0.95), "share of the lamp's power that leaves as light and heat rays"),
    input("lamp_gain", "1", 8.0, (1.0, 15.0), "gain of the reflector"),
    input("lamp_source_offset", "m", 0.03, (0.0, 0.1), "virtual source behind the front of the lamp"),
    input("lamp_radius", "m", 0.0, (0.0, 0.06), "radius of the bright disc"),
    input("meter_aside", "m", 0.0, (0.0, 0.2), "meter beside the axis of the lamp"),
    input("second_distance", "m", 1.2, (0.05, 3.0), "where a second meter stands for the whole run"),
    input("stray_irradiance", "W/m2", 4.0, (0.0, 50.0), "irradiance from the room, with the lamp off"),
    input("plate_absorptance", "1", 0.95, (0.05, 1.0), "share of the light that a test plate absorbs"),
    input("plate_capacity", "J/(m2 K)", 2400.0, (500.0, 20_000.0), "heat capacity of the test plate by area"),
];

static STATES: &[State] = &[
    State { id: "irradiance", unit: "W/m2", about: "irradiance on the meter, from lamp and room" },
    State { id: "lamp_irradiance", unit: "W/m2", about: "irradiance on the meter from the lamp alone" },
    State { id: "stray_irradiance", unit: "W/m2", about: "irradiance on the meter with the lamp off" },
    State { id: "second_irradiance", unit: "W/m2", about: "irradiance on the second meter, from lamp and room" },
    State { id: "heating_rate", unit: "K/min", about: "how fast a black plate at the meter's place starts to warm" },
];

impl Bench for LampLight {
    fn id(&self) -> &'static str {
        "lamp-light"
    }

    fn inputs(&self) -> &'static [Input] {
        INPUTS
    }

    fn states(&self) -> &'static [State] {
        STATES
    }

    fn variable(&self) -> State {
        State { id: "distance", unit: "m", about: "from the front of the lamp to the meter" }
    }

    fn run(&self, settings: &Settings, at: &[f64]) -> Result<Run, BenchError> {
        settings.check(self)?;
        ascending(at)?;
        let of = |name| settings.get(name);
        let (offset, stray) = (of("lamp_source_offset"), of("stray_irradiance"));
        let (low, high) = (REACH.0 - offset, REACH.1);
        if let Some(&value) = at.iter().find(|&&distance| distance < low || distance > high) {
            return Err(BenchError::OutOfRange { name: "distance", value, unit: "m", low, high });
        }
        let lamp = Lamp {
            power: of("lamp_power"),
            radiant_share: of("lamp_radiant_share"),
            gain: of("lamp_gain"),
            source_offset: offset,
            evenness: 1.0,
            warm_up: 0.0,
        };
        let from_lamp = |&distance: &f64| {
            let reach = distance + offset;
            lamp.irradiance(distance)
                * light_law::disc_share(of("lamp_radius"), reach)
                * light_law::cosine_cubed(reach, of("meter_aside"))
        };
        let lamp_column: Vec<f64> = at.iter().map(from_lamp).collect();
        let total: Vec<f64> = lamp_column.iter().map(|light| light + stray).collect();
        let rate = 60.0 * of("plate_absorptance") / of("plate_capacity");
        let heating = total.iter().map(|light| rate * light).collect();
        let second = from_lamp(&of("second_distance")) + stray;
        let columns = vec![total, lamp_column, vec![stray; at.len()], vec![second; at.len()], heating];
        Ok(Run { columns, energy: None, limits: Vec::new() })
    }
}

//! Circulation without a pump: a closed loop of water, an electric heater low on one side, a cooler higher on the other.
//! In: settings and powers of the heater in W. Out: the steady state. It must not read instruments.
//!
//! # Equations
//! Drive: `Δp = g H (ρ(T_c) − ρ(T_h))`; it is the friction of the tube at T_m, see [`super::Pipe`]:
//! `Δp = 128 μ L ṁ / (π ρ d⁴) + K ρ u² / 2`.
//! Heater: `P − k (T_m − T_a) = ṁ c (T_h − T_c)`, `T_m = (T_h + T_c) / 2`, μ, ρ and c of water at T_m.
//! Without drive at any T_h up to 95 °C the water stands still and would boil, so the setting is refused.
//! A marked stretch of the tube takes the mean stream `t = s / u`; in laminar flow the front of a dye, in the middle of the
//! tube, runs at 2 u and takes half of that. Ledger of a second: supplied `P`, carried to the cooler (stored), lost.
//!
//! | symbol | meaning | unit |
//! | --- | --- | --- |
//! | T_h, T_c, T_a | water behind the heater, behind the cooler, room | °C |
//! | P, k | power of the heater, loss of its jacket | W, W/K |
//! | H | middle of the cooler above the middle of the heater | m |
//! | d, L, K | tube: inner diameter, length, loss of bends and fittings | m, m, 1 |
//! | ṁ, u, s | mass flow, mean speed, marked stretch | kg/s, m/s, m |
//!
//! Source: balance of momentum and of energy along a closed loop; see [`super::pipe`] and [`super::water`].
//!
//! # Validity
//! Steady state, laminar flow (Re below 2100), liquid water up to 95 °C, loop insulated but for the heater's jacket, cooler
//! large enough to bring the water to T_c. Where the drive at T_c is downward (below 4 °C) nothing flows until T_h is so
//! warm that the water is lighter again.

mod model;

use super::{Bench, BenchError, Energy, Input, Run, Settings, State, input, integrate::ascending};
use model::Model;

/// The loop without a pump.
#[derive(Debug, Clone, Copy)]
pub struct Thermosiphon;

/// The largest power of the heater, W.
const MOST_POWER: f64 = 60.0;

static INPUTS: &[Input] = &[
    input("height", "m", 0.25, (0.05, 0.6), "middle of the cooler above the middle of the heater"),
    input("tube_diameter", "mm", 8.0, (5.0, 16.0), "inner diameter of the tube"),
    input("tube_length", "m", 1.0, (0.4, 3.0), "length of the whole loop"),
    input("fittings", "1", 6.0, (0.0, 20.0), "sum of the loss coefficients of bends and fittings"),
    input("jacket_loss", "W/K", 0.05, (0.0, 0.5), "loss of the heater's jacket per kelvin"),
    input("cold_temperature", "°C", 20.0, (1.0, 40.0), "water behind the cooler"),
    input("marked_length", "m", 0.20, (0.05, 0.4), "marked stretch of the tube"),
    input("room_temperature", "°C", 20.0, (5.0, 40.0), "temperature of the room"),
];

static STATES: &[State] = &[
    State { id: "hot_temperature", unit: "°C", about: "water behind the heater" },
    State { id: "cold_temperature", unit: "°C", about: "water behind the cooler" },
    State { id: "flow", unit: "g/s", about: "mass flow" },
    State { id: "drive", unit: "Pa", about: "pressure that drives the water" },
    State { id: "reynolds", unit: "1", about: "Reynolds number of the tube" },
    State { id: "speed", unit: "mm/s", about: "mean speed in the tube" },
    State { id: "front_time", unit: "s", about: "front of a dye over the marked stretch" },
    State { id: "carried_power", unit: "W", about: "heat that the stream carries to the cooler" },
    State { id: "room_temperature", unit: "°C", about: "the room" },
];

impl Bench for Thermosiphon {
    fn id(&self) -> &'static str {
        "thermosiphon"
    }

    fn inputs(&self) -> &'static [Input] {
        INPUTS
    }

    fn states(&self) -> &'static [State] {
        STATES
    }

    fn variable(&self) -> State {
        State { id: "power", unit: "W", about: "electrical power of the heater" }
    }

    fn run(&self, settings: &Settings, at: &[f64]) -> Result<Run, BenchError> {
        settings.check(self)?;
        ascending(at)?;
        if let Some(&value) = at.last().filter(|power| **power > MOST_POWER) {
            return Err(BenchError::OutOfRange { name: "power", value, unit: "W", low: 0.0, high: MOST_POWER });
        }
        let model = Model::new(settings);
        let mut columns = vec![Vec::with_capacity(at.len()); STATES.len()];
        let mut energy = None;
        for &power in at {
            let steady = model.steady(power)?;
            columns.iter_mut().zip(model.row(&steady)).for_each(|(column, value)| column.push(value));
            energy = Some(Energy { supplied: power, stored: steady.carried, lost: steady.lost });
        }
        Ok(Run { columns, energy, limits: Vec::new() })
    }
}

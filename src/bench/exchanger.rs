//! Two streams of water in a tube within a tube, in counterflow and, with two hoses swapped, in parallel flow.
//! In: settings and the cold stream's flow in g/s. Out: the steady state. It must not read instruments.
//!
//! # Equations
//! `Q = ε C_min (T_h1 − T_c1)`, ε of [`super::exchange`] with `NTU = UA / C_min`, `C_h = ṁ_h c`, `C_c = ṁ_c c`,
//! `c = c_p((T_h1 + T_c1) / 2)`; outlets `T_h2 = T_h1 − Q / C_h`, `T_c2 = T_c1 + Q / C_c`.
//! Behind each outlet a hose with loss K leads to the thermometer: `T' = T_a + (T − T_a) exp(−K / C)`.
//! Ledger of a second in counterflow: supplied `C_h (T_h1 − T_h2')`, stored in the cold stream `C_c (T_c2' − T_c1)`, lost by
//! the hoses.
//!
//! | symbol | meaning | unit |
//! | --- | --- | --- |
//! | T_h, T_c, T_a | hot stream, cold stream, room; 1 inlet, 2 outlet | °C |
//! | ṁ, C | mass flow, heat capacity rate | kg/s, W/K |
//! | UA, K | heat transfer, loss of the hose behind each outlet | W/K |
//!
//! Sources: see [`super::exchange`]; loss of a hose: the same relation with the room as the other side.
//!
//! # Validity
//! Steady state; heat capacity constant along the exchanger (0.3 % between 20 and 80 °C); UA the same for all flows (laminar);
//! the exchanger itself insulated; a cold stream that stands still is warmed all the way; both inlets between 5 and 90 °C, the hot one the hotter.

mod model;

use super::{
    Bench, BenchError, Energy, Input, Run, Settings, State, exchange::Arrangement, input, integrate::ascending,
};
use model::Model;

/// The tube in a tube.
#[derive(Debug, Clone, Copy)]
pub struct Exchanger;

/// The largest flow of a stream, g/s.
const MOST_FLOW: f64 = 30.0;

static INPUTS: &[Input] = &[
    input("hot_flow", "g/s", 5.0, (0.5, MOST_FLOW), "mass flow of the hot stream"),
    input("transfer", "W/K", 20.0, (1.0, 60.0), "heat transfer UA between the streams"),
    input("hot_inlet", "°C", 60.0, (30.0, 90.0), "hot stream as it enters"),
    input("cold_inlet", "°C", 15.0, (5.0, 29.0), "cold stream as it enters"),
    input("hose_loss", "W/K", 0.0, (0.0, 1.0), "loss of the hose between each outlet and its thermometer, per kelvin"),
    input("room_temperature", "°C", 20.0, (10.0, 35.0), "temperature of the room"),
];

static STATES: &[State] = &[
    State { id: "hot_inlet", unit: "°C", about: "hot stream as it enters" },
    State { id: "cold_inlet", unit: "°C", about: "cold stream as it enters" },
    State { id: "counter_hot_outlet", unit: "°C", about: "hot stream behind its outlet, in counterflow" },
    State { id: "counter_cold_outlet", unit: "°C", about: "cold stream behind its outlet, in counterflow" },
    State { id: "parallel_hot_outlet", unit: "°C", about: "hot stream behind its outlet, in parallel flow" },
    State { id: "parallel_cold_outlet", unit: "°C", about: "cold stream behind its outlet, in parallel flow" },
    State { id: "counter_power", unit: "W", about: "heat that passes in counterflow" },
    State { id: "parallel_power", unit: "W", about: "heat that passes in parallel flow" },
    State { id: "counter_effectiveness", unit: "1", about: "effectiveness in counterflow" },
    State { id: "parallel_effectiveness", unit: "1", about: "effectiveness in parallel flow" },
    State { id: "hot_flow", unit: "g/s", about: "mass flow of the hot stream" },
    State { id: "room_temperature", unit: "°C", about: "the room" },
];

impl Bench for Exchanger {
    fn id(&self) -> &'static str {
        "exchanger"
    }

    fn inputs(&self) -> &'static [Input] {
        INPUTS
    }

    fn states(&self) -> &'static [State] {
        STATES
    }

    fn variable(&self) -> State {
        State { id: "cold_flow", unit: "g/s", about: "mass flow of the cold stream" }
    }

    fn run(&self, settings: &Settings, at: &[f64]) -> Result<Run, BenchError> {
        settings.check(self)?;
        ascending(at)?;
        if let Some(&value) = at.last().filter(|flow| **flow > MOST_FLOW) {
            let (low, high) = (0.0, MOST_FLOW);
            return Err(BenchError::OutOfRange { name: "cold_flow", value, unit: "g/s", low, high });
        }
        let model = Model::new(settings);
        let of = |arrangement| at.iter().map(|&flow| model.steady(arrangement, flow / 1000.0)).collect::<Vec<_>>();
        let (counter, parallel) = (of(Arrangement::Counter), of(Arrangement::Parallel));
        let column = |steady: &[model::Steady], pick: fn(&model::Steady) -> f64| steady.iter().map(pick).collect();
        let constant = |name: &str| vec![settings.get(name); at.len()];
        let columns = vec![
            constant("hot_inlet"),
            constant("cold_inlet"),
            column(&counter, |steady| steady.hot_read),
            column(&counter, |steady| steady.cold_read),
            column(&parallel, |steady| steady.hot_read),
            column(&parallel, |steady| steady.cold_read),
            column(&counter, |steady| steady.passed),
            column(&parallel, |steady| steady.passed),
            column(&counter, |steady| steady.effectiveness),
            column(&parallel, |steady| steady.effectiveness),
            constant("hot_flow"),
            constant("room_temperature"),
        ];
        let energy = counter.last().map(|steady| {
            let [supplied, stored, lost] = steady.second;
            Energy { supplied, stored, lost }
        });
        Ok(Run { columns, energy, limits: Vec::new() })
    }
}

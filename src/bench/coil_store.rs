//! A store that is charged through a coil: a pump drives hot water from a source vessel through a coil in a stirred store and
//! back. In: settings and times in s. Out: true states. It must not read instruments.
//!
//! # Equations
//! Coil: `Q = ṁ c ε (T_h − T_s)`, `ε = 1 − exp(−UA / (ṁ c))`, `c = c_p((T_h + T_s) / 2)`, see [`super::exchange`].
//! Return: `T_out = T_h − ε (T_h − T_s)`.
//! Source, stirred: `(m_h c_p(T_h) + C_h) dT_h/dt = P − Q − K_h (T_h − T_a)`.
//! Store, stirred: `(m_s c_p(T_s) + C_s) dT_s/dt = Q − K_s (T_s − T_a)`. Probe in the store: `dT_p/dt = (T_s − T_p) / τ`.
//! Ledger: supplied `P t`; lost `∫ (K_h (T_h − T_a) + K_s (T_s − T_a)) dt`, integrated with the states; stored
//! `Σ (m Δh(T) + C ΔT)` of both vessels.
//! Limit: both rates zero. `P = K_h (T_h − T_a) + Q`, `Q = K_s (T_s − T_a)`.
//!
//! | symbol | meaning | unit |
//! | --- | --- | --- |
//! | T_h, T_s, T_out, T_p, T_a | source (it enters the coil), store, return, probe in the store, room | °C |
//! | ṁ, UA | mass flow, heat transfer of the coil | kg/s, W/K |
//! | m, C, K | water, heat capacity of the vessel, loss per kelvin; h source, s store | kg, J/K, W/K |
//! | P, τ | heater in the source, lag of the probe | W, s |
//!
//! Sources: coil in a mixed store: Incropera, Fundamentals of Heat and Mass Transfer, section 11.4 (`C_r = 0`); water:
//! IAPWS R6-95.
//!
//! # Validity
//! Liquid water below 95 °C in both vessels, both well stirred; UA the same for all flows (laminar); the hoses' delay and
//! loss are part of the source.

#[cfg(test)]
mod cases;
mod model;

use super::{Bench, BenchError, Energy, Input, Limit, Run, Settings, State, input, integrate::TOLERANCE};
use model::Model;

/// The highest temperature that a vessel may reach, °C.
const HIGHEST: f64 = 95.0;

/// The store with a coil.
#[derive(Debug, Clone, Copy)]
pub struct CoilStore;

static INPUTS: &[Input] = &[
    input("flow", "g/s", 3.0, (0.5, 15.0), "mass flow through the coil"),
    input("coil_transfer", "W/K", 8.0, (0.5, 15.0), "heat transfer of the coil (copper 3-12, plastic 1-3)"),
    input("source_mass", "kg", 1.5, (0.1, 5.0), "water in the source and its loop"),
    input("source_capacity", "J/K", 100.0, (0.0, 1000.0), "heat capacity of source vessel, pump and hoses"),
    input("source_loss", "W/K", 0.3, (0.02, 1.0), "loss of source and hoses per kelvin"),
    input("source_excess", "K", 40.0, (-5.0, 70.0), "source at the start against the room"),
    input("heater_power", "W", 0.0, (0.0, 300.0), "heater in the source"),
    input("store_mass", "kg", 0.25, (0.05, 1.0), "water in the store"),
    input("store_capacity", "J/K", 40.0, (0.0, 300.0), "heat capacity of store vessel and coil"),
    input("store_loss", "W/K", 0.12, (0.02, 0.5), "loss of the store per kelvin"),
    input("store_excess", "K", 0.0, (-10.0, 70.0), "store at the start against the room"),
    input("room_temperature", "°C", 20.0, (10.0, 35.0), "temperature of the room"),
    input("probe_lag", "s", 0.0, (0.0, 60.0), "lag of the probe in the store"),
];

static STATES: &[State] = &[
    State { id: "store_temperature", unit: "°C", about: "water in the store, stirred" },
    State { id: "store_probe", unit: "°C", about: "what a probe in the store shows, with its lag" },
    State { id: "inlet_temperature", unit: "°C", about: "water as it enters the coil: the source" },
    State { id: "return_temperature", unit: "°C", about: "water as it leaves the coil" },
    State { id: "passed_power", unit: "W", about: "heat that passes through the coil" },
    State { id: "flow", unit: "g/s", about: "mass flow through the coil" },
    State { id: "effectiveness", unit: "1", about: "effectiveness of the coil" },
    State { id: "room_temperature", unit: "°C", about: "the room" },
];

impl Bench for CoilStore {
    fn id(&self) -> &'static str {
        "coil-store"
    }

    fn inputs(&self) -> &'static [Input] {
        INPUTS
    }

    fn states(&self) -> &'static [State] {
        STATES
    }

    fn variable(&self) -> State {
        State { id: "time", unit: "s", about: "time since the pump was switched on" }
    }

    fn run(&self, settings: &Settings, at: &[f64]) -> Result<Run, BenchError> {
        settings.check(self)?;
        let model = Model::new(settings);
        let states = model.solve(at, TOLERANCE)?;
        let column = |pick: &dyn Fn(&[f64; 4]) -> f64| states.iter().map(pick).collect::<Vec<f64>>();
        let constant = |name: &str| vec![settings.get(name); at.len()];
        let store = column(&|state| state[1]);
        let source = column(&|state| state[0]);
        for (part, temperatures) in [("source", &source), ("store", &store)] {
            let reached = temperatures.iter().copied().fold(f64::NEG_INFINITY, f64::max);
            if reached > HIGHEST {
                return Err(BenchError::Overheated { part, reached, highest: HIGHEST });
            }
        }
        let columns = vec![
            store,
            column(&|state| if model.probe_lag > 0.0 { state[2] } else { state[1] }),
            source,
            column(&|state| model.outlet(state[0], state[1])),
            column(&|state| model.passed(state[0], state[1])),
            constant("flow"),
            column(&|state| model.effectiveness(state[0], state[1])),
            constant("room_temperature"),
        ];
        let energy = states.last().zip(at.last()).map(|(&[source, store, _, lost], &time)| Energy {
            supplied: model.heater * time,
            stored: model.source.stored(source) + model.store.stored(store),
            lost,
        });
        Ok(Run { columns, energy, limits: limits(&model) })
    }
}

/// Where all ends, unless a heater that stays on would boil the water before.
fn limits(model: &Model) -> Vec<Limit> {
    let (source, store) = model.limit();
    let all = [
        ("store_temperature", store),
        ("store_probe", store),
        ("inlet_temperature", source),
        ("return_temperature", model.outlet(source, store)),
    ];
    if source > HIGHEST { Vec::new() } else { all.map(|(state, value)| Limit { state, value }).to_vec() }
}

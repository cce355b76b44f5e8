//! A calorimeter of cool water into which a hot body is put. In: its settings and times in s. Out: its true states.
//! It must not read instruments, and not compute the common temperature from a formula.
//!
//! # Equations
//! Water and cup, stirred: `(m c_p(T) + C_k) dT/dt = H (T_b − T) − K (T − T_a)`.
//! Body: `m_b c_b dT_b/dt = −H (T_b − T)`.
//! Before the body is put in at the time t_0, `H = 0` and `T_b` keeps its value.
//! Thermometer: `dT_s/dt = (T − T_s) / τ_s`.
//! Ledger: nothing is supplied from outside; stored `m Δh(T) + C_k ΔT + m_b c_b ΔT_b`, lost `∫ K (T − T_a) dt`.
//! Limit: the room.
//!
//! | symbol | meaning | unit |
//! | --- | --- | --- |
//! | T, T_s, T_b, T_a | temperature of water and cup, sensor, body, room | °C |
//! | m, c_p(T), h(T) | mass, specific heat capacity, specific enthalpy of the water, see [`super::water`] | kg, J/(kg K), J/kg |
//! | C_k | heat capacity of cup, stirrer and thermometer | J/K |
//! | m_b, c_b | mass and specific heat capacity of the body | kg, J/(kg K) |
//! | H | heat transfer from body to stirred water | W/K |
//! | K | loss of the calorimeter per kelvin | W/K |
//! | t_0, τ_s | when the body is put in, lag of the thermometer | s, s |
//!
//! Sources: lumped bodies and Newton's law of cooling (heat-transfer textbooks); water: IAPWS R6-95; first-order lag of a
//! probe: common practice, no source.
//!
//! # Validity
//! Water between 0 and 95 °C, so that no steam is made around the body; a body that conducts well (Biot number
//! `H / A · l / k` below 0.1), evenly warm inside; its way from the hot bath to the cup left out.

mod model;

use super::{Bench, BenchError, Energy, Input, Limit, Run, Settings, State, input};
use model::Model;

/// The calorimeter.
#[derive(Debug, Clone, Copy)]
pub struct Calorimeter;

static INPUTS: &[Input] = &[
    input("water_mass", "kg", 0.15, (0.05, 0.5), "water in the calorimeter"),
    input("calorimeter_capacity", "J/K", 60.0, (0.0, 200.0), "heat capacity of cup, stirrer and thermometer"),
    input("loss", "W/K", 0.05, (0.0, 0.5), "loss of the calorimeter per kelvin"),
    input("body_mass", "kg", 0.2, (0.02, 0.5), "mass of the hot body"),
    input("body_heat_capacity", "J/(kg K)", 450.0, (100.0, 4500.0), "specific heat capacity of the body"),
    input("body_temperature", "°C", 95.0, (30.0, 100.0), "body as it is put in"),
    input("transfer", "W/K", 8.0, (1.0, 50.0), "heat transfer from body to water"),
    input("entry_time", "s", 120.0, (0.0, 600.0), "when the body is put in"),
    input("probe_lag", "s", 5.0, (1.0, 60.0), "time constant of the thermometer"),
    input("room_temperature", "°C", 20.0, (10.0, 35.0), "temperature of the room"),
    input("start_temperature", "°C", 18.0, (2.0, 90.0), "water and cup at the first reading"),
];

static STATES: &[State] = &[
    State { id: "water_temperature", unit: "°C", about: "water in the calorimeter, stirred" },
    State { id: "probe_temperature", unit: "°C", about: "sensor of the thermometer in the water" },
    State { id: "body_temperature", unit: "°C", about: "the body, in its hot bath until it is put in" },
    State { id: "start_temperature", unit: "°C", about: "water at the first reading" },
    State { id: "hot_bath_temperature", unit: "°C", about: "the body as it is put in" },
    State { id: "room_temperature", unit: "°C", about: "the room" },
];

impl Bench for Calorimeter {
    fn id(&self) -> &'static str {
        "calorimeter"
    }

    fn inputs(&self) -> &'static [Input] {
        INPUTS
    }

    fn states(&self) -> &'static [State] {
        STATES
    }

    fn variable(&self) -> State {
        State { id: "time", unit: "s", about: "time since the first reading" }
    }

    fn run(&self, settings: &Settings, at: &[f64]) -> Result<Run, BenchError> {
        settings.check(self)?;
        let model = Model::new(settings);
        let states = model.solve(at)?;
        let column = |place: usize| states.iter().map(|state| state[place]).collect::<Vec<f64>>();
        let constant = |value: f64| vec![value; at.len()];
        let columns = vec![
            column(0),
            column(1),
            column(2),
            constant(model.water_start),
            constant(model.body_start),
            constant(model.room),
        ];
        let energy = states.last().map(|&[water, _, body, lost]| Energy {
            supplied: 0.0,
            stored: model.stored(water, body),
            lost,
        });
        Ok(Run { columns, energy, limits: limits(&model) })
    }
}

/// Everything ends at the temperature of the room, if the calorimeter loses heat at all.
fn limits(model: &Model) -> Vec<Limit> {
    let states = ["water_temperature", "probe_temperature", "body_temperature"];
    let loses = model.store.loss_per_kelvin > 0.0;
    states.into_iter().filter(|_| loses).map(|state| Limit { state, value: model.room }).collect()
}

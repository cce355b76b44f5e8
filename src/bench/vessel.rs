//! A vessel of water with a thermometer, an insulating layer and an electric heater. In: its settings and times in s.
//! Out: its true states. It must not read instruments; it does not know whether a lesson heats or cools.
//!
//! # Equations
//! Vessel, stirred: `(m c_p(T) + C_v) dT/dt = φ U I − K (T − T_a) − E(T)`.
//! Loss: `K = A / (t/k + 1/h) + K_l`, see [`super::insulation::Wall`].
//! Open surface: `E = A_o h_o ((T − T_a) + (p_s(T) − φ_a p_s(T_a)) / γ)`, see [`super::evaporation`]; none under a lid.
//! Thermometer: `dT_s/dt = (T − T_s) / τ_s`, at the start as warm as the water.
//! Ledger: supplied `∫ U I dt`, lost `∫ (K (T − T_a) + E + (1 − φ) U I) dt`, both integrated with the states; stored
//! `m Δh(T) + C_v ΔT` with the enthalpy `h = ∫ c_p dT`.
//! Limit: the right-hand side of the vessel's balance zero; reported where it lies within the model.
//!
//! | symbol | meaning | unit |
//! | --- | --- | --- |
//! | t (time) | since the first reading; the heater is on all the time | s |
//! | T, T_s, T_a | temperature of water, sensor, room | °C |
//! | m, c_p(T), h(T) | mass, specific heat capacity, specific enthalpy of the water, see [`super::water`] | kg, J/(kg K), J/kg |
//! | C_v | heat capacity of the vessel and what stands in it | J/K |
//! | A, t, k, h | area of the wall, thickness and conductivity of the layer, film outside | m², m, W/(m K), W/(m² K) |
//! | K_l | loss through lid and stand per kelvin | W/K |
//! | A_o, h_o, φ_a | open surface, its film, humidity of the room | m², W/(m² K), 1 |
//! | U, I, φ | voltage and current of the heater, share of its power that ends in the water | V, A, 1 |
//! | τ_s | lag of the thermometer | s |
//!
//! Sources: Newton's law of cooling with the series resistance of a plane wall (heat-transfer textbooks); Bowen's ratio
//! for the open surface; water: IAPWS R6-95; first-order lag of a probe: common practice, no source.
//!
//! # Validity
//! Liquid water between 0 and 95 °C, well stirred; the vessel as warm as the water, so that the heat in the insulating
//! layer is left out; film coefficients that do not depend on the temperature; mass lost by evaporation left out (below
//! 2 % an hour under 60 °C).

mod model;

pub(super) use model::Model;

use super::{Bench, BenchError, Energy, Input, Limit, Run, Settings, State, input};

/// The highest temperature of the water that the bench may reach, °C.
pub(super) const HIGHEST: f64 = 95.0;

/// The vessel of water.
#[derive(Debug, Clone, Copy)]
pub struct Vessel;

static INPUTS: &[Input] = &[
    input("water_mass", "kg", 0.2, (0.05, 1.5), "water in the vessel"),
    input("vessel_capacity", "J/K", 60.0, (0.0, 500.0), "heat capacity of the vessel and what stands in it"),
    input("wall_area", "m2", 0.03, (0.005, 0.12), "area of the wall through which heat is lost"),
    input("film", "W/(m2 K)", 10.0, (4.0, 25.0), "air film and radiation outside the wall"),
    input("layer_thickness", "m", 0.0, (0.0, 0.05), "thickness of the insulating layer"),
    input("layer_conductivity", "W/(m K)", 0.04, (0.02, 1.5), "conductivity of the insulating layer"),
    input("lid_loss", "W/K", 0.02, (0.0, 0.3), "loss through lid and stand per kelvin"),
    input("open_area", "m2", 0.0, (0.0, 0.01), "open surface of the water; zero under a lid"),
    input("surface_film", "W/(m2 K)", 6.0, (3.0, 10.0), "air film above an open surface"),
    input("humidity", "1", 0.5, (0.2, 0.95), "relative humidity of the room"),
    input("heater_voltage", "V", 0.0, (0.0, 240.0), "voltage of the heater"),
    input("heater_current", "A", 0.0, (0.0, 10.0), "current of the heater"),
    input("heater_heat_share", "1", 1.0, (0.5, 1.0), "share of the heater's power that ends in the water"),
    input("probe_lag", "s", 8.0, (1.0, 60.0), "time constant of the thermometer"),
    input("room_temperature", "°C", 20.0, (10.0, 35.0), "temperature of the room"),
    input("start_temperature", "°C", 80.0, (5.0, 92.0), "water and vessel at the first reading"),
];

static STATES: &[State] = &[
    State { id: "water_temperature", unit: "°C", about: "water in the vessel, stirred" },
    State { id: "probe_temperature", unit: "°C", about: "sensor of the thermometer in the water" },
    State { id: "loss_power", unit: "W", about: "heat that the vessel gives off to the room" },
    State { id: "heater_voltage", unit: "V", about: "voltage of the heater" },
    State { id: "heater_current", unit: "A", about: "current of the heater" },
    State { id: "heater_power", unit: "W", about: "electrical power of the heater" },
    State { id: "heater_energy", unit: "J", about: "electrical energy taken since the start" },
    State { id: "room_temperature", unit: "°C", about: "the room" },
];

impl Bench for Vessel {
    fn id(&self) -> &'static str {
        "vessel"
    }

    fn inputs(&self) -> &'static [Input] {
        INPUTS
    }

    fn states(&self) -> &'static [State] {
        STATES
    }

    fn variable(&self) -> State {
        State { id: "time", unit: "s", about: "time since the first reading; the heater is on all the time" }
    }

    fn run(&self, settings: &Settings, at: &[f64]) -> Result<Run, BenchError> {
        settings.check(self)?;
        let model = Model::new(settings);
        let states = model.solve(at)?;
        let column = |pick: &dyn Fn(&[f64; 4]) -> f64| states.iter().map(pick).collect::<Vec<f64>>();
        let constant = |value: f64| vec![value; at.len()];
        let columns = vec![
            column(&|state| state[0]),
            column(&|state| state[1]),
            column(&|state| model.loss(state[0])),
            constant(settings.get("heater_voltage")),
            constant(settings.get("heater_current")),
            constant(model.heater),
            column(&|state| state[2]),
            constant(model.room),
        ];
        let energy = states.last().map(|state| model.energy(state));
        let limit = model.limit();
        let states = ["water_temperature", "probe_temperature"].into_iter().filter(|_| limit <= HIGHEST);
        Ok(Run { columns, energy, limits: states.map(|state| Limit { state, value: limit }).collect() })
    }
}

impl Model {
    /// The ledger at a state.
    pub(super) fn energy(&self, &[water, _, supplied, lost]: &[f64; 4]) -> Energy {
        Energy { supplied, stored: self.store.stored(self.start, water), lost }
    }
}

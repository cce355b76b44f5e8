//! A thermoelectric module between a hot and a cold store, as generator or as heat pump. In: its settings and times in s.
//! Out: its true states. It must not read instruments; the lag of the probes is physics and is made here.
//!
//! # Equations
//! Hot store: `C_h dT_h/dt = P_e − Q_h − K_h (T_h − T_a)`. Cold store: `C_c dT_c/dt = Q_c − K_c (T_c − T_a)`.
//! `C = m c_p(T) + C_v` for each, see [`super::store`]. Q_h and Q_c as in [`super::Thermoelectric`] with the temperatures of
//! the stores at the faces. Circuit: with a supply, `I = −I_s`; else `I = α (T_h − T_c) / (R + R_L)`. `U = α (T_h − T_c) − R I`.
//! Probes: `τ dT_p/dt = T − T_p` in either store.
//! Ledger: supplied `∫ (P_e − U I) dt` with a supply, else `∫ P_e dt`; lost `∫ (K_h (T_h − T_a) + K_c (T_c − T_a)) dt`, and
//! without a supply `∫ U I dt` too, as the load gives its heat to the room; stored by the enthalpy of the stores.
//! Limit of a generator: both rates zero. A heat pump has no limit within a lesson, and none is given.
//! Start: each store at `T_a` plus its start excess, the probes with them.
//!
//! | symbol | meaning | unit |
//! | --- | --- | --- |
//! | T_h, T_c, T_a, T_p | hot store, cold store, room, probe | °C |
//! | P_e | heater in the hot store | W |
//! | m, C_v, K_h, K_c | water, other heat capacity of a store, loss to the room per kelvin | kg, J/K, W/K |
//! | α, R, K | module, see [`super::Thermoelectric`] | V/K, Ω, W/K |
//! | R_L, I_s | load of a generator, current of the supply of a heat pump | Ω, A |
//! | τ | lag of a probe; below 0.1 s there is none | s |
//!
//! Sources: as [`super::Thermoelectric`]; lumped stores and first-order probes, common practice.
//!
//! # Validity
//! Stores evenly warm, between 0 and 95 °C; no heat resistance between store and face.

mod model;

use super::{Bench, BenchError, Energy, Input, Limit, Run, Settings, State, input};
use model::Model;

/// The temperatures between which the stores must stay, °C.
const VALID: (f64, f64) = (0.0, 95.0);

/// The module between two stores.
#[derive(Debug, Clone, Copy)]
pub struct ModuleStores;

static INPUTS: &[Input] = &[
    input("heater_power", "W", 30.0, (0.0, 60.0), "heater in the hot store"),
    input("hot_water", "kg", 0.0, (0.0, 0.3), "water in the hot store"),
    input("cold_water", "kg", 0.0, (0.0, 0.3), "water in the cold store"),
    input("hot_capacity", "J/K", 160.0, (20.0, 500.0), "heat capacity of the block or vessel on the hot side"),
    input("cold_capacity", "J/K", 300.0, (20.0, 500.0), "heat capacity of the block or vessel on the cold side"),
    input("hot_loss", "W/K", 0.12, (0.02, 2.0), "loss of the hot store per kelvin"),
    input("cold_loss", "W/K", 2.5, (0.02, 10.0), "loss of the cold store per kelvin, with its cooler"),
    input("seebeck", "V/K", 0.0513, (0.01, 0.08), "Seebeck coefficient of the module"),
    input("module_resistance", "Ω", 2.0, (0.5, 6.0), "electrical resistance of the module"),
    input("conductance", "W/K", 0.53, (0.2, 1.5), "heat conductance of the module"),
    input("load_resistance", "Ω", 1e7, (0.0, 1e9), "load of the generator; a voltmeter alone has 10 MΩ"),
    input("supply_current", "A", 0.0, (0.0, 5.0), "current that a supply drives; 0 for a generator"),
    input("probe_lag", "s", 0.0, (0.0, 20.0), "time constant of the probes"),
    input("room_temperature", "°C", 20.0, (5.0, 40.0), "temperature of the room"),
    input("hot_start", "K", 0.0, (-20.0, 60.0), "hot store at the start against the room"),
    input("cold_start", "K", 0.0, (-20.0, 60.0), "cold store at the start against the room"),
];

static STATES: &[State] = &[
    State { id: "hot_temperature", unit: "°C", about: "hot store" },
    State { id: "cold_temperature", unit: "°C", about: "cold store" },
    State { id: "hot_probe", unit: "°C", about: "probe in the hot store, with its lag" },
    State { id: "cold_probe", unit: "°C", about: "probe in the cold store, with its lag" },
    State { id: "voltage", unit: "V", about: "voltage at the module" },
    State { id: "current", unit: "A", about: "current through the module, that of the supply where there is one" },
    State { id: "electrical_power", unit: "W", about: "power given to the load, or taken from the supply" },
    State {
        id: "heat_in",
        unit: "W",
        about: "heat from the hot store into the module; negative where it is pumped there",
    },
    State {
        id: "heat_out",
        unit: "W",
        about: "heat from the module into the cold store; negative where it is pumped away",
    },
    State { id: "room_temperature", unit: "°C", about: "the room" },
];

impl Bench for ModuleStores {
    fn id(&self) -> &'static str {
        "module-stores"
    }

    fn inputs(&self) -> &'static [Input] {
        INPUTS
    }

    fn states(&self) -> &'static [State] {
        STATES
    }

    fn variable(&self) -> State {
        State { id: "time", unit: "s", about: "time since heater or supply were switched on" }
    }

    fn run(&self, settings: &Settings, at: &[f64]) -> Result<Run, BenchError> {
        settings.check(self)?;
        let model = Model::new(settings);
        let limits: Vec<Limit> = model
            .limit()
            .map(|(hot, cold)| {
                vec![Limit { state: "hot_temperature", value: hot }, Limit { state: "cold_temperature", value: cold }]
            })
            .unwrap_or_default();
        limits.iter().try_for_each(|limit| within(limit.state, limit.value))?;

        let states = model.solve(at)?;
        let column = |pick: &dyn Fn(&[f64; 6]) -> f64| states.iter().map(pick).collect::<Vec<f64>>();
        let (hot, cold) = (column(&|state| state[0]), column(&|state| state[1]));
        hot.iter().try_for_each(|&t| within("hot_temperature", t))?;
        cold.iter().try_for_each(|&t| within("cold_temperature", t))?;
        let columns = vec![
            hot,
            cold,
            column(&|state| model.hot_probe(state)),
            column(&|state| model.cold_probe(state)),
            column(&|state| model.voltage(state[0], state[1])),
            column(&|state| model.current(state[0], state[1]) * model.sign()),
            column(&|state| model.power(state[0], state[1]) * model.sign()),
            column(&|state| model.heat_in(state[0], state[1])),
            column(&|state| model.heat_out(state[0], state[1])),
            vec![settings.get("room_temperature"); at.len()],
        ];
        let energy = states.last().map(|&[hot, cold, _, _, supplied, lost]| Energy {
            supplied,
            stored: model.stored(hot, cold),
            lost,
        });
        Ok(Run { columns, energy, limits })
    }
}

fn within(part: &'static str, reached: f64) -> Result<(), BenchError> {
    let (low, high) = VALID;
    if (low..=high).contains(&reached) {
        Ok(())
    } else {
        Err(BenchError::LeavesModel { state: part, reached, unit: "°C", low, high })
    }
}

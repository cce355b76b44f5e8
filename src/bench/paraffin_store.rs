//! The paraffin store: paraffin in a vessel with an electric heater on its wall, which is switched off at a time.
//! In: its settings and times in s. Out: its true states. It must not read instruments.
//!
//! # Equations
//! State: the enthalpy `E = m h(T) + C_v (T − T_s)` of paraffin and vessel, with `h(T)` of [`super::Wax`], from which the
//! temperature follows.
//! Balance: `dE/dt = Q`, `Q = P − K_v (T_w − T_a)`, and through the wall `Q = (T_w − T) / R`; together
//! `Q = (P − K_v (T − T_a)) / (1 + K_v R)`, `T_w = T + R Q`.
//! Plateau (w = 0, R = 0): `T = T_m` for `m L / (P − K_v (T_m − T_a))` seconds.
//! Supercooling: once all is molten the store stays liquid down to `T_l − ΔT_sc`; there it freezes, and the temperature
//! jumps to that of its enthalpy.
//! Heater: `P = U I` until the switching time, zero afterwards. Probe: `dT_p/dt = (T − T_p) / τ`.
//! Ledger: supplied `∫ P dt`, stored `E − E_0`, lost `∫ K_v (T_w − T_a) dt`.
//! The curve T(E) is a chain of straight lines, so that all of it is solved in closed form, piece by piece.
//!
//! | symbol | meaning | unit |
//! | --- | --- | --- |
//! | T, T_w, T_p, T_a | temperature of paraffin, wall, probe, room | °C |
//! | m, T_m, w, L, c_s, c_l | paraffin, see [`super::Wax`] | kg, °C, K, J/kg, J/(kg K), J/(kg K) |
//! | ΔT_sc | supercooling | K |
//! | C_v, K_v | heat capacity of the vessel, loss per kelvin | J/K, W/K |
//! | R | resistance between wall and paraffin | K/W |
//! | U, I, P | voltage, current, power of the heater | V, A, W |
//! | τ | lag of the probe | s |
//!
//! Sources: balance of a lumped store in closed form; enthalpy method, see [`super::Wax`]; supercooling and jump: common
//! practice, no source.
//!
//! # Validity
//! Wall below 95 °C. Paraffin of one temperature: it holds where the heat spreads faster within (fins, thin layers) than it
//! gets in; what conduction in a thick layer does is described by [`super::stefan`].

pub(super) mod model;
pub(super) mod path;

use super::{Bench, BenchError, Energy, Input, Limit, Run, Settings, State, input, integrate::ascending};
use model::Model;
use path::Path;

/// The highest temperature of the wall that the bench may reach, °C.
const HIGHEST: f64 = 95.0;

/// The heater stays on for the whole run where it is set to this time, s.
const ALL_DAY: f64 = 86_400.0;

/// The paraffin store.
#[derive(Debug, Clone, Copy)]
pub struct ParaffinStore;

static INPUTS: &[Input] = &[
    input("paraffin_mass", "kg", 0.08, (0.02, 0.2), "paraffin in the vessel"),
    input("melting_temperature", "°C", 55.0, (40.0, 65.0), "melting temperature, the middle of the melting range"),
    input("melting_range", "K", 0.0, (0.0, 6.0), "width of the melting range (pure 0, technical paraffin 2-4)"),
    input("latent_heat", "kJ/kg", 180.0, (120.0, 260.0), "heat of fusion"),
    input("solid_heat_capacity", "J/(kg K)", 2100.0, (1800.0, 3000.0), "specific heat capacity of the solid"),
    input("liquid_heat_capacity", "J/(kg K)", 2300.0, (1800.0, 2600.0), "specific heat capacity of the liquid"),
    input("supercooling", "K", 0.0, (0.0, 3.0), "how far below the melting range the liquid cools before it freezes"),
    input("vessel_capacity", "J/K", 20.0, (0.0, 100.0), "heat capacity of the vessel"),
    input("loss", "W/K", 0.12, (0.02, 0.5), "loss of the vessel's wall per kelvin"),
    input("wall_resistance", "K/W", 0.0, (0.0, 2.0), "resistance between wall and paraffin"),
    input("heater_voltage", "V", 12.0, (0.0, 24.0), "voltage of the heater"),
    input("heater_current", "A", 1.25, (0.0, 4.0), "current of the heater"),
    input("heating_time", "s", ALL_DAY, (0.0, ALL_DAY), "when the heater is switched off"),
    input("room_temperature", "°C", 20.0, (5.0, 35.0), "temperature of the room"),
    input("start_excess", "K", 0.0, (-5.0, 70.0), "paraffin and vessel at the start against the room"),
    input("probe_lag", "s", 0.0, (0.0, 60.0), "lag of the probe in the paraffin"),
];

static STATES: &[State] = &[
    State { id: "probe_temperature", unit: "°C", about: "what a probe in the paraffin shows, with its lag" },
    State { id: "paraffin_temperature", unit: "°C", about: "the paraffin" },
    State { id: "wall_temperature", unit: "°C", about: "wall of the vessel, under the heater" },
    State { id: "molten_share", unit: "1", about: "share of the paraffin that is liquid" },
    State { id: "stored_heat", unit: "J", about: "heat taken up by paraffin and vessel since the start" },
    State { id: "heater_power", unit: "W", about: "power of the heater" },
    State { id: "heater_voltage", unit: "V", about: "voltage of the heater while it is on" },
    State { id: "heater_current", unit: "A", about: "current of the heater while it is on" },
    State { id: "room_temperature", unit: "°C", about: "the room" },
];

impl Bench for ParaffinStore {
    fn id(&self) -> &'static str {
        "paraffin-store"
    }

    fn inputs(&self) -> &'static [Input] {
        INPUTS
    }

    fn states(&self) -> &'static [State] {
        STATES
    }

    fn variable(&self) -> State {
        State { id: "time", unit: "s", about: "time since the heater was switched on" }
    }

    fn run(&self, settings: &Settings, at: &[f64]) -> Result<Run, BenchError> {
        settings.check(self)?;
        ascending(at)?;
        let model = Model::new(settings);
        let path = Path::new(model);
        let end = at.last().copied().unwrap_or(0.0);
        let hottest = path.hottest(end);
        if hottest > HIGHEST {
            return Err(BenchError::Overheated { part: "paraffin store", reached: hottest, highest: HIGHEST });
        }
        let moments: Vec<_> = at.iter().map(|&time| path.at(time)).collect();
        let column = |pick: &dyn Fn(&path::Moment) -> f64| moments.iter().map(pick).collect::<Vec<f64>>();
        let constant = |name: &str| vec![settings.get(name); at.len()];
        let columns = vec![
            column(&|moment| moment.probe),
            column(&|moment| moment.paraffin),
            column(&|moment| moment.wall),
            column(&|moment| moment.molten),
            column(&|moment| moment.heat[1]),
            column(&|moment| moment.power),
            constant("heater_voltage"),
            constant("heater_current"),
            constant("room_temperature"),
        ];
        let energy = moments.last().map(|moment| {
            let [supplied, stored, lost] = moment.heat;
            Energy { supplied, stored, lost }
        });
        Ok(Run { columns, energy, limits: limits(&model) })
    }
}

/// The room once the heater is off; a heater that stays on has a limit only where the store would not overheat.
fn limits(model: &Model) -> Vec<Limit> {
    let power = if model.heating_time < ALL_DAY { 0.0 } else { model.power };
    let paraffin = model.room + power / model.loss_per_kelvin;
    if paraffin > HIGHEST {
        return Vec::new();
    }
    // In the steady state nothing passes through the wall of the paraffin.
    ["probe_temperature", "paraffin_temperature", "wall_temperature"]
        .map(|state| Limit { state, value: paraffin })
        .to_vec()
}

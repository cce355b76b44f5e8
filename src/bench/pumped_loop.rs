//! The pumped collector loop: lamp, flat plate, pump, vessel. In: its settings and times in s. Out: its true states.
//! It must not read instruments: what a thermometer shows is made elsewhere.
//!
//! # Equations
//! Light: `G = s g r P / (4 π (d + d_0)²) · (1 − exp(−t / τ_L))`, see [`super::Lamp`].
//! Plate: `C_p dT_p/dt = A η_0 G − A (a_1 + a_2 |T_p − T_a|) (T_p − T_a) − Q`, with its mean temperature T_p.
//! Passage from plate to stream: `Q = K (T_p − T_w)`, `K = L F_R / (1 − F_R)`, `F_R = (ṁc/L) (1 − exp(−F' L / ṁc))`,
//! `F' = UA / (UA + L)`, `L = A (a_1 + 2 a_2 |T_p − T_a|)`, `c = c_p(T_w)`, see [`super::Collector::coupling`].
//! Outlet: `T_out = T_w + Q / (ṁ c)`.
//! Vessel, stirred: `(m c_p(T_w) + C_v) dT_w/dt = Q + φ U I − K_v (T_w − T_a)`.
//! Ledger: supplied `∫ (A η_0 G + φ U I) dt`, lost `∫ (loss of the plate + K_v (T_w − T_a)) dt`, both integrated with the
//! states; stored `C_p ΔT_p + C_v ΔT_w + m Δh(T_w)` with the enthalpy `h = ∫ c_p dT`.
//! Limit: both rates zero in the light of the warm lamp.
//! Start: plate and vessel at `T_a` plus the start excess.
//!
//! | symbol | meaning | unit |
//! | --- | --- | --- |
//! | t | time since lamp and pump were switched on | s |
//! | T_p, T_w, T_out, T_a | temperature of plate, water in the vessel, water that leaves the collector, room | °C |
//! | s, g, r, P, d, d_0, τ_L | lamp, see [`super::Lamp`] | 1, 1, 1, W, m, m, s |
//! | G | mean irradiance on the plate | W/m² |
//! | A, η_0, a_1, a_2 | collector (quadratic form of ISO 9806), see [`super::Collector`] | m², 1, W/(m² K), W/(m² K²) |
//! | C_p, C_v | heat capacity of the plate with the water in it, of vessel and hoses | J/K |
//! | m, c_p(T), h(T) | mass, specific heat capacity, specific enthalpy of the water, see [`super::water`] | kg, J/(kg K), J/kg |
//! | ṁ, UA | mass flow, heat transfer from plate to water | kg/s, W/K |
//! | U, I, φ | voltage and current of the pump, share of its power that ends in the water | V, A, 1 |
//! | K_v | loss of vessel and hoses per kelvin | W/K |
//!
//! Sources: two-node collector balance with a stirred store and the factors F' and F_R: Duffie and Beckman, Solar
//! Engineering of Thermal Processes, chapters 6 and 10 (quoted from memory); losses: ISO 9806; water: IAPWS R6-95.
//!
//! # Validity
//! Liquid water between 0 and 95 °C in vessel and outlet; the vessel well stirred; the hoses' delay (some seconds) and the
//! spread of temperatures within the plate's thickness left out; flow laminar, so that UA does not depend on it; plate and
//! stream follow each other at once, while the plate as a whole lags by `C_p / (K + L)`.

#[cfg(test)]
mod cases;
mod model;

use super::{Bench, BenchError, Energy, Input, Limit, Run, Settings, State, integrate::TOLERANCE};
use model::Model;

/// The highest temperature of the water that the bench may reach, °C.
const HIGHEST: f64 = 95.0;

/// The pumped collector loop.
#[derive(Debug, Clone, Copy)]
pub struct PumpedLoop;

static INPUTS: &[Input] = &[
    input("lamp_power", "W", 150.0, (20.0, 500.0), "electrical power of the lamp"),
    input("lamp_distance", "m", 0.30, (0.15, 1.0), "from the front of the reflector to the plate"),
    input("lamp_radiant_share", "1", 0.85, (0.3, 0.95), "share of the lamp's power that leaves as light and heat rays"),
    input("lamp_gain", "1", 10.0, (1.0, 15.0), "gain of the reflector"),
    input("lamp_source_offset", "m", 0.02, (0.0, 0.1), "virtual source behind the front of the reflector"),
    input("lamp_evenness", "1", 0.92, (0.7, 1.0), "mean over the plate against the middle of the spot"),
    input("lamp_warm_up", "s", 0.0, (0.0, 60.0), "time constant with which the lamp comes to its full light"),
    input("plate_area", "m2", 0.045, (0.02, 0.05), "area of the absorber"),
    input("optical_efficiency", "1", 0.92, (0.75, 0.95), "share of the light that the plate absorbs"),
    input(
        "loss_linear",
        "W/(m2 K)",
        13.0,
        (2.0, 25.0),
        "linear loss coefficient of the plate (bare 12-25, glazed 5-9)",
    ),
    input("loss_quadratic", "W/(m2 K2)", 0.05, (0.0, 0.1), "quadratic loss coefficient of the plate"),
    input("plate_capacity", "J/K", 60.0, (20.0, 200.0), "heat capacity of the plate and the water in it"),
    input("plate_transfer", "W/K", 8.0, (0.5, 30.0), "heat transfer from plate to water"),
    input("water_mass", "kg", 0.15, (0.05, 0.3), "water in the vessel"),
    input("vessel_capacity", "J/K", 40.0, (0.0, 200.0), "heat capacity of vessel and hoses"),
    input("vessel_loss", "W/K", 0.12, (0.05, 0.2), "loss of vessel and hoses per kelvin"),
    input("flow", "g/s", 5.0, (1.0, 10.0), "mass flow of the loop"),
    input("pump_voltage", "V", 7.5, (0.0, 12.0), "voltage of the pump"),
    input("pump_current", "A", 0.22, (0.0, 1.0), "current of the pump"),
    input("pump_heat_share", "1", 0.8, (0.0, 1.0), "share of the pump's power that ends in the water"),
    input("room_temperature", "°C", 20.0, (5.0, 40.0), "temperature of the room"),
    input("start_excess", "K", 0.0, (-5.0, 55.0), "water and plate at the start against the room"),
];

static STATES: &[State] = &[
    State { id: "water_temperature", unit: "°C", about: "water in the vessel, stirred" },
    State { id: "plate_temperature", unit: "°C", about: "absorber plate, mean" },
    State { id: "outlet_temperature", unit: "°C", about: "water as it leaves the collector" },
    State { id: "irradiance", unit: "W/m2", about: "mean irradiance on the plate" },
    State { id: "room_temperature", unit: "°C", about: "the room" },
    State { id: "pump_voltage", unit: "V", about: "voltage of the pump" },
    State { id: "pump_current", unit: "A", about: "current of the pump" },
    State { id: "flow", unit: "g/s", about: "mass flow of the loop" },
    State { id: "volume_flow", unit: "mL/s", about: "volume flow of the loop, at the temperature of the vessel" },
    State { id: "useful_power", unit: "W", about: "heat that the stream takes from the plate" },
];

impl Bench for PumpedLoop {
    fn id(&self) -> &'static str {
        "pumped-loop"
    }

    fn inputs(&self) -> &'static [Input] {
        INPUTS
    }

    fn states(&self) -> &'static [State] {
        STATES
    }

    fn variable(&self) -> State {
        State { id: "time", unit: "s", about: "time since lamp and pump were switched on" }
    }

    fn run(&self, settings: &Settings, at: &[f64]) -> Result<Run, BenchError> {
        self.run_with_tolerance(settings, at, 1.0)
    }
}

impl PumpedLoop {
    /// A run with `share` of the usual tolerance of the solver, to see what the tolerance is worth.
    ///
    /// # Errors
    /// As [`Bench::run`].
    pub fn run_with_tolerance(&self, settings: &Settings, at: &[f64], share: f64) -> Result<Run, BenchError> {
        settings.check(self)?;
        let model = Model::new(settings);
        let (plate_limit, water_limit) = model.limit();
        let outlet_limit = model.outlet(plate_limit, water_limit);
        cool_enough(water_limit)?;
        cool_enough(outlet_limit)?;

        let states = model.solve(at, TOLERANCE * share)?;
        let column = |pick: &dyn Fn(&[f64; 4]) -> f64| states.iter().map(pick).collect::<Vec<f64>>();
        let constant = |name: &str| vec![settings.get(name); at.len()];
        let water = column(&|state| state[1]);
        let outlet = column(&|state| model.outlet(state[0], state[1]));
        water.iter().chain(&outlet).try_for_each(|&t| cool_enough(t))?;
        let columns = vec![
            water,
            column(&|state| state[0]),
            outlet,
            at.iter().map(|&time| model.irradiance(time)).collect(),
            constant("room_temperature"),
            constant("pump_voltage"),
            constant("pump_current"),
            constant("flow"),
            column(&|state| model.volume_flow(state[1])),
            column(&|state| model.passage(state[0], state[1])),
        ];
        let energy = states.last().map(|&[plate, water, supplied, lost]| Energy {
            supplied,
            stored: model.stored(plate, water),
            lost,
        });
        let limits = vec![
            Limit { state: "water_temperature", value: water_limit },
            Limit { state: "plate_temperature", value: plate_limit },
            Limit { state: "outlet_temperature", value: outlet_limit },
        ];
        Ok(Run { columns, energy, limits })
    }
}

fn cool_enough(water: f64) -> Result<(), BenchError> {
    if water <= HIGHEST { Ok(()) } else { Err(BenchError::TooHot { limit: water, highest: HIGHEST }) }
}

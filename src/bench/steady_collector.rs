//! A collector in the steady state: water of a constant temperature runs through a flat plate under a lamp. In: settings
//! and flows, or excesses of the water that enters. Out: what leaves it. It must not read instruments.
//!
//! # Equations
//! Light: `G = s g r P / (4 π (d + d_0)²)`, see [`super::Lamp`].
//! Plate, at its mean temperature T_p: `A η_0 G − A (a_1 + a_2 |T_p − T_a|) (T_p − T_a) = Q`.
//! Stream: `Q = K (T_p − T_in)` with K of Hottel, Whillier and Bliss, see [`super::Collector::coupling`];
//! `T_out = T_in + Q / (ṁ c)`, c at T_in. Without flow the water in the plate takes the plate's temperature.
//! Efficiency: `η = Q / (A G)`; reduced temperature difference: `x = ((T_in + T_out) / 2 − T_a) / G`.
//!
//! | symbol | meaning | unit |
//! | --- | --- | --- |
//! | T_in, T_out, T_p, T_a | water that enters and leaves, plate (mean), room | °C |
//! | ṁ, c | mass flow, specific heat capacity of the water | kg/s, J/(kg K) |
//! | G, A, η_0, a_1, a_2, UA | light and collector, see [`super::Lamp`], [`super::Collector`] | |
//! | x | reduced temperature difference | K m²/W |
//!
//! Sources: ISO 9806 (steady-state test, quadratic form); Hottel, Whillier and Bliss in Duffie and Beckman, Solar
//! Engineering of Thermal Processes, chapter 6 (quoted from memory).
//!
//! # Validity
//! Liquid water up to 95 °C, a plate up to 150 °C; laminar flow, so that UA does not depend on it; each reading is taken
//! when nothing changes any more, some minutes after the last setting.

mod model;

use super::{Bench, BenchError, Input, Run, Settings, State, input, integrate::ascending};
use model::Model;

/// The flow is varied, the water enters at one temperature.
#[derive(Debug, Clone, Copy)]
pub struct CollectorFlow;

/// The temperature at which water enters is varied, the flow stays.
#[derive(Debug, Clone, Copy)]
pub struct CollectorInlet;

static INPUTS: &[Input] = &[
    input("lamp_power", "W", 150.0, (20.0, 500.0), "electrical power of the lamp"),
    input("lamp_distance", "m", 0.30, (0.15, 1.0), "from the front of the reflector to the plate"),
    input("lamp_radiant_share", "1", 0.85, (0.3, 0.95), "share of the lamp's power that leaves as light and heat rays"),
    input("lamp_gain", "1", 10.0, (1.0, 15.0), "gain of the reflector"),
    input("lamp_source_offset", "m", 0.02, (0.0, 0.1), "virtual source behind the front of the reflector"),
    input("lamp_evenness", "1", 0.92, (0.7, 1.0), "mean over the plate against the middle of the spot"),
    input("plate_area", "m2", 0.045, (0.02, 0.05), "area of the absorber"),
    input("optical_efficiency", "1", 0.92, (0.75, 0.95), "share of the light that the plate absorbs"),
    input("loss_linear", "W/(m2 K)", 13.0, (2.0, 25.0), "linear loss coefficient (bare 12-25, glazed 5-9)"),
    input("loss_quadratic", "W/(m2 K2)", 0.02, (0.0, 0.1), "quadratic loss coefficient"),
    input("plate_transfer", "W/K", 8.0, (0.5, 30.0), "heat transfer from plate to water"),
    input("flow", "g/s", 2.0, (0.5, 15.0), "mass flow, where it is not varied"),
    input("inlet_excess", "K", 0.0, (-5.0, 60.0), "water that enters against the room, where it is not varied"),
    input("room_temperature", "°C", 20.0, (5.0, 40.0), "temperature of the room"),
];

static STATES: &[State] = &[
    State { id: "outlet_temperature", unit: "°C", about: "water as it leaves" },
    State { id: "inlet_temperature", unit: "°C", about: "water as it enters" },
    State { id: "plate_temperature", unit: "°C", about: "absorber plate, mean" },
    State { id: "flow", unit: "g/s", about: "mass flow" },
    State { id: "useful_power", unit: "W", about: "heat that the stream takes" },
    State { id: "efficiency", unit: "1", about: "useful power over the light on the plate" },
    State { id: "irradiance", unit: "W/m2", about: "mean irradiance on the plate" },
    State { id: "room_temperature", unit: "°C", about: "the room" },
];

impl Bench for CollectorFlow {
    fn id(&self) -> &'static str {
        "collector-flow"
    }

    fn inputs(&self) -> &'static [Input] {
        INPUTS
    }

    fn states(&self) -> &'static [State] {
        STATES
    }

    fn variable(&self) -> State {
        State { id: "flow", unit: "kg/s", about: "mass flow" }
    }

    fn run(&self, settings: &Settings, at: &[f64]) -> Result<Run, BenchError> {
        let excess = settings.get("inlet_excess");
        run(self, settings, at, |flow| (flow, excess))
    }
}

impl Bench for CollectorInlet {
    fn id(&self) -> &'static str {
        "collector-inlet"
    }

    fn inputs(&self) -> &'static [Input] {
        INPUTS
    }

    fn states(&self) -> &'static [State] {
        STATES
    }

    fn variable(&self) -> State {
        State { id: "inlet_excess", unit: "K", about: "water that enters against the room" }
    }

    fn run(&self, settings: &Settings, at: &[f64]) -> Result<Run, BenchError> {
        let flow = settings.get("flow") / 1000.0;
        run(self, settings, at, |excess| (flow, excess))
    }
}

/// Readings at pairs of flow (kg/s) and excess of the inlet (K).
fn run(
    bench: &dyn Bench,
    settings: &Settings,
    at: &[f64],
    pair: impl Fn(f64) -> (f64, f64),
) -> Result<Run, BenchError> {
    settings.check(bench)?;
    ascending(at)?;
    let model = Model::new(settings);
    let mut columns = vec![Vec::with_capacity(at.len()); STATES.len()];
    for &value in at {
        let (flow, excess) = pair(value);
        let row = model.steady(flow, model.room + excess)?;
        columns.iter_mut().zip(row).for_each(|(column, value)| column.push(value));
    }
    // Nothing is stored in the steady state, so there is no ledger over time.
    Ok(Run { columns, energy: None, limits: Vec::new() })
}

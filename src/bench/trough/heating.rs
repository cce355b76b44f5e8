//! A trough in the sun with standing water in its tube. In: its settings and times in s. Out: its true states.
//! It must not read instruments; the probe's lag is the bench's.
//!
//! # Equations
//! Absorbed: `N = G L α [ρ a γ cos ε + σ D] cos θ K(θ) E(θ)`, see [`crate::bench::Mirror`].
//! Tube: `C dT_t/dt = N − A_r (U_1 + U_2 |T_t − T_a|) (T_t − T_a) − K (T_t − T_w)`, `A_r = π D L`.
//! Water: `m c_p(T_w) dT_w/dt = K (T_t − T_w) − K_e (T_w − T_a)`.
//! Probe: `τ dT_p/dt = T_w − T_p`.
//! Useful: what tube and water take up, `N − losses`; efficiency `η = useful / (a L G)`. Over `(T − T_a)/G` it falls with
//! the slope `U_1 / C_a` at the start, `C_a = a / (π D)`.
//! Ledger: supplied `∫ N dt`, lost `∫ (both losses) dt`, stored `C ΔT_t + m Δh(T_w)`.
//! Limit: both rates zero, as if water could not boil; it may lie far above 100 °C.
//!
//! | symbol | meaning | unit |
//! | --- | --- | --- |
//! | t | time since the trough was turned to the sun | s |
//! | T_t, T_w, T_p, T_a | temperature of tube, water, probe, air | °C |
//! | C, m | heat capacity of the tube, mass of the water | J/K, kg |
//! | U_1, U_2, K, K_e | loss coefficients of the tube, passage to the water, loss over the ends | W/(m² K), W/(m² K²), W/K |
//! | τ | time constant of the probe | s |
//!
//! Sources: two-node balance as of a flat plate (Duffie and Beckman, chapters 6 and 7, quoted from memory); water: IAPWS
//! R6-95; lag of a probe in first order (common practice, no source).
//!
//! # Validity
//! Liquid water up to 95 °C at every time that is read; water mixed along the tube; sky clear and steady; see
//! [`crate::bench::Mirror`] for the light. The limit may be above boiling, so a run must be read while it is below.

use super::{
    HIGHEST,
    model::{Model, State as Now},
    parts::{self, COMMON, joined},
};
use crate::bench::{Bench, BenchError, Energy, Input, Limit, Run, Settings, State, input};

/// The trough in the sun.
#[derive(Debug, Clone, Copy)]
pub struct Trough;

static INPUTS: [Input; 22] = joined(
    COMMON,
    [
        input(
            "tube_offset",
            "mm",
            0.0,
            (-50.0, 50.0),
            "middle of the tube behind the focal line, as seen from the mirror",
        ),
        input("tube_capacity", "J/K", 15.0, (5.0, 100.0), "heat capacity of the tube"),
        input("tube_transfer", "W/K", 4.0, (0.5, 20.0), "heat transfer from tube to water"),
        input("water_mass", "g", 38.0, (5.0, 150.0), "water in the tube"),
        input("end_loss", "W/K", 0.02, (0.0, 0.1), "loss over the ends of the tube per kelvin"),
        input("probe_lag", "s", 8.0, (0.0, 20.0), "time constant of the probe"),
        input("start_excess", "K", 0.0, (-5.0, 50.0), "tube and water at the start against the air"),
    ],
);

static STATES: &[State] = &[
    State { id: "probe_temperature", unit: "°C", about: "what a probe in the water takes on" },
    State { id: "water_temperature", unit: "°C", about: "water in the tube" },
    State { id: "tube_temperature", unit: "°C", about: "wall of the tube" },
    State { id: "irradiance", unit: "W/m2", about: "irradiance square to the beam" },
    State { id: "absorbed_power", unit: "W", about: "light that the tube absorbs" },
    State { id: "useful_power", unit: "W", about: "heat that tube and water take up" },
    State { id: "efficiency", unit: "1", about: "useful power over the light on the aperture" },
    State { id: "room_temperature", unit: "°C", about: "the air" },
];

impl Bench for Trough {
    fn id(&self) -> &'static str {
        "trough"
    }

    fn inputs(&self) -> &'static [Input] {
        &INPUTS
    }

    fn states(&self) -> &'static [State] {
        STATES
    }

    fn variable(&self) -> State {
        State { id: "time", unit: "s", about: "time since the trough was turned to the sun" }
    }

    fn run(&self, settings: &Settings, at: &[f64]) -> Result<Run, BenchError> {
        settings.check(self)?;
        let model = Model::new(settings, settings.get("tube_offset"));
        let states = model.solve(at)?;
        if let Some(limit) = states.iter().map(|state| state[1]).find(|&water| water > HIGHEST) {
            return Err(BenchError::TooHot { limit, highest: HIGHEST });
        }
        let column = |pick: &dyn Fn(&Now) -> f64| states.iter().map(pick).collect::<Vec<f64>>();
        let constant = |value: f64| vec![value; at.len()];
        let light = parts::mirror(settings).area() * settings.get("irradiance");
        let columns = vec![
            column(&|state| model.shown(state)),
            column(&|state| state[1]),
            column(&|state| state[0]),
            constant(settings.get("irradiance")),
            constant(model.absorbed),
            column(&|state| model.useful(state)),
            column(&|state| model.useful(state) / light),
            constant(model.room),
        ];
        let energy =
            states.last().map(|state| Energy { supplied: state[3], stored: model.stored(state), lost: state[4] });
        let (tube, water) = model.limit();
        let limits = vec![
            Limit { state: "tube_temperature", value: tube },
            Limit { state: "water_temperature", value: water },
            Limit { state: "probe_temperature", value: water },
        ];
        Ok(Run { columns, energy, limits })
    }
}

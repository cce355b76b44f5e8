//! A trough whose tube is put at one height after another, each time with cool water. In: its settings and heights of the
//! tube in mm. Out: what has become of the water after the same time. It must not read instruments.
//!
//! # Equations
//! Those of [`super::Trough`], for each height anew, until the time t_e.
//! Ledger: of the run at the last height.
//!
//! # Validity
//! As [`super::Trough`]; heights from the mirror to 0.3 m.

use super::{
    HIGHEST,
    model::Model,
    parts::{self, COMMON, joined},
};
use crate::bench::{Bench, BenchError, Energy, Input, Run, Settings, State, input, integrate::ascending};

/// The highest place of the tube, mm.
const TOP: f64 = 300.0;

/// The trough with a tube that is moved through the focal line.
#[derive(Debug, Clone, Copy)]
pub struct TroughFocus;

static INPUTS: [Input; 22] = joined(
    COMMON,
    [
        input("duration", "s", 120.0, (10.0, 600.0), "how long the water is heated at each height"),
        input("tube_capacity", "J/K", 15.0, (5.0, 100.0), "heat capacity of the tube"),
        input("tube_transfer", "W/K", 4.0, (0.5, 20.0), "heat transfer from tube to water"),
        input("water_mass", "g", 38.0, (5.0, 150.0), "water in the tube"),
        input("end_loss", "W/K", 0.02, (0.0, 0.1), "loss over the ends of the tube per kelvin"),
        input("probe_lag", "s", 8.0, (0.0, 20.0), "time constant of the probe"),
        input("start_excess", "K", 0.0, (-5.0, 50.0), "tube and water at the start against the air"),
    ],
);

static STATES: &[State] = &[
    State { id: "start_temperature", unit: "°C", about: "water before it is heated" },
    State { id: "end_temperature", unit: "°C", about: "what a probe in the water takes on at the end" },
    State { id: "water_temperature", unit: "°C", about: "water at the end" },
    State { id: "absorbed_power", unit: "W", about: "light that the tube absorbs" },
    State { id: "irradiance", unit: "W/m2", about: "irradiance square to the beam" },
    State { id: "room_temperature", unit: "°C", about: "the air" },
];

impl Bench for TroughFocus {
    fn id(&self) -> &'static str {
        "trough-focus"
    }

    fn inputs(&self) -> &'static [Input] {
        &INPUTS
    }

    fn states(&self) -> &'static [State] {
        STATES
    }

    fn variable(&self) -> State {
        State { id: "tube_height", unit: "mm", about: "middle of the tube above the lowest line of the mirror" }
    }

    fn run(&self, settings: &Settings, at: &[f64]) -> Result<Run, BenchError> {
        settings.check(self)?;
        ascending(at)?;
        if let Some(&value) = at.iter().find(|&&height| height > TOP) {
            return Err(BenchError::OutOfRange { name: "tube_height", value, unit: "mm", low: 0.0, high: TOP });
        }
        let focal = 1000.0 * parts::mirror(settings).focal;
        let duration = settings.get("duration");
        let mut columns = vec![Vec::with_capacity(at.len()); STATES.len()];
        let mut energy = None;
        for &height in at {
            let model = Model::new(settings, height - focal);
            let Some(end) = model.solve(&[duration])?.pop() else { continue };
            if end[1] > HIGHEST {
                return Err(BenchError::TooHot { limit: end[1], highest: HIGHEST });
            }
            let light = settings.get("irradiance");
            let row = [model.start, model.shown(&end), end[1], model.absorbed, light, model.room];
            columns.iter_mut().zip(row).for_each(|(column, value)| column.push(value));
            energy = Some(Energy { supplied: end[3], stored: model.stored(&end), lost: end[4] });
        }
        Ok(Run { columns, energy, limits: Vec::new() })
    }
}

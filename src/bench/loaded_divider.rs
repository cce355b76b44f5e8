//! A slide potentiometer as a voltage divider with a load resistor. In: its settings and positions of the slider.
//! Out: voltages, currents, powers. It must not know what the load does with its power.
//!
//! # Equations
//! Slider at the share x of the track: `R_2 = x R_p`, `R_1 = (1 − x) R_p`. The voltmeter R_V lies across the output all the
//! time. Unloaded `U = U_0 R_a / (R_1 + R_a)`, `R_a = R_2 ∥ R_V`; loaded the same with `R_2 ∥ R_V ∥ R_L`. `I_L = U / R_L`,
//! `I_0 = U_0 / (R_1 + R_2 ∥ R_V ∥ R_L)`, `P_L = U I_L`, `P_0 = U_0 I_0`, `η = P_L / P_0`, heat in the track
//! `(U_0 − U)²/R_1 + U²/R_2`.
//!
//! | symbol | meaning | unit |
//! | --- | --- | --- |
//! | x | position of the slider from the end at zero volts, as a share of the track | 1 |
//! | U_0, I_0, P_0 | voltage, current, power of the supply | V, A, W |
//! | R_p, R_1, R_2 | whole track, its parts above and below the slider | Ω |
//! | R_L, I_L, P_L, η | load, its current and power, share of the supply's power that it gets | Ω, A, W, 1 |
//! | R_V | voltmeter | Ω |
//!
//! Source: Ohm's and Kirchhoff's laws.
//!
//! # Validity
//! A supply that holds its voltage; a track that stays cool enough for its resistance to stay; a slider without resistance.

use super::{Bench, BenchError, Divider, Input, Run, Settings, State, divider::parallel, input, integrate::ascending};

/// The potentiometer with its load.
#[derive(Debug, Clone, Copy)]
pub struct LoadedDivider;

static INPUTS: &[Input] = &[
    input("supply_voltage", "V", 9.0, (1.0, 25.0), "voltage of the supply"),
    input("track_resistance", "Ω", 100.0, (10.0, 1e4), "whole track of the potentiometer"),
    input("load_resistance", "Ω", 50.0, (1.0, 1e6), "load at the slider"),
    input("voltmeter_resistance", "Ω", 1e7, (1e4, 1e9), "voltmeter across the output"),
];

static STATES: &[State] = &[
    State { id: "unloaded_voltage", unit: "V", about: "output without the load" },
    State { id: "loaded_voltage", unit: "V", about: "output with the load" },
    State { id: "load_current", unit: "A", about: "current through the load" },
    State { id: "supply_current", unit: "A", about: "current from the supply, with the load" },
    State { id: "load_power", unit: "W", about: "power in the load" },
    State { id: "supply_power", unit: "W", about: "power from the supply, with the load" },
    State { id: "track_heat", unit: "W", about: "power turned into heat in the track, with the load" },
    State { id: "efficiency", unit: "1", about: "power in the load over power from the supply" },
    State { id: "supply_voltage", unit: "V", about: "voltage of the supply" },
];

impl Bench for LoadedDivider {
    fn id(&self) -> &'static str {
        "loaded-divider"
    }

    fn inputs(&self) -> &'static [Input] {
        INPUTS
    }

    fn states(&self) -> &'static [State] {
        STATES
    }

    fn variable(&self) -> State {
        State {
            id: "slider",
            unit: "1",
            about: "position of the slider from the end at zero volts, share of the track",
        }
    }

    fn run(&self, settings: &Settings, at: &[f64]) -> Result<Run, BenchError> {
        settings.check(self)?;
        ascending(at)?;
        let of = |name| settings.get(name);
        let (supply, meter, load) = (of("supply_voltage"), of("voltmeter_resistance"), of("load_resistance"));
        let both = parallel(meter, load);
        let mut columns = vec![Vec::with_capacity(at.len()); STATES.len()];
        for &slider in at {
            // A share of exactly one may be off by the rounding of its unit's conversion.
            if slider > 1.0 + 1e-12 {
                return Err(BenchError::LeavesModel {
                    state: "slider",
                    reached: slider,
                    unit: "1",
                    low: 0.0,
                    high: 1.0,
                });
            }
            let divider = Divider::potentiometer(supply, of("track_resistance"), slider.min(1.0));
            let (voltage, current) = (divider.loaded(both), divider.supply_current(both));
            let across =
                |voltage: f64, resistance: f64| if resistance > 0.0 { voltage * voltage / resistance } else { 0.0 };
            let (load_power, supply_power) = (voltage * voltage / load, supply * current);
            let row = [
                divider.loaded(meter),
                voltage,
                voltage / load,
                current,
                load_power,
                supply_power,
                across(supply - voltage, divider.top) + across(voltage, divider.bottom),
                load_power / supply_power,
                supply,
            ];
            columns.iter_mut().zip(row).for_each(|(column, value)| column.push(value));
        }
        Ok(Run { columns, energy: None, limits: Vec::new() })
    }
}

//! A thermoelectric module between a warm and a cool body feeds a load resistor. In: its settings and loads in Ω.
//! Out: the steady states. It must not know in which order the loads are tried: each is read when nothing changes any more.
//!
//! # Equations
//! Module: `U = α (T_h − T_c) − R I`, `I = α (T_h − T_c) / (R + R_L)`, Q_h and Q_c as in [`super::Thermoelectric`].
//! Faces: `T_h = T_s − R_h Q_h`, `T_c = T_k + R_c Q_c`, see [`super::ModuleFaces`]. Power `P = U I = Q_h − Q_c`.
//!
//! | symbol | meaning | unit |
//! | --- | --- | --- |
//! | T_s, T_k, T_h, T_c | warm body, cool body, hot face, cold face | °C |
//! | R_h, R_c | heat resistance on the hot and on the cold side | K/W |
//! | α, R, K | module, see [`super::Thermoelectric`] | V/K, Ω, W/K |
//! | R_L, U, I, P | load, voltage and current at it, its power | Ω, V, A, W |
//! | η | efficiency, `P / Q_h` | 1 |
//!
//! Sources: as [`super::Thermoelectric`]; heat resistances in series by Fourier's law.
//!
//! # Validity
//! Steady states; both bodies so large that their temperatures stay. With R_h = R_c = 0 the faces are fixed.

use super::{
    Bench, BenchError, Input, ModuleFaces, Run, Settings, State, Thermoelectric, input, integrate::ascending,
    thermoelectric::CELSIUS_ZERO,
};

/// The module with a load.
#[derive(Debug, Clone, Copy)]
pub struct ModuleLoad;

static INPUTS: &[Input] = &[
    input("source_temperature", "°C", 85.0, (5.0, 95.0), "warm body"),
    input("sink_temperature", "°C", 20.0, (5.0, 60.0), "cool body"),
    input("hot_resistance", "K/W", 0.6, (0.0, 2.0), "heat resistance from the warm body to the hot face"),
    input("cold_resistance", "K/W", 0.6, (0.0, 2.0), "heat resistance from the cold face to the cool body"),
    input("seebeck", "V/K", 0.0513, (0.01, 0.08), "Seebeck coefficient of the module"),
    input("module_resistance", "Ω", 2.0, (0.5, 6.0), "electrical resistance of the module"),
    input("conductance", "W/K", 0.53, (0.2, 1.5), "heat conductance of the module"),
];

static STATES: &[State] = &[
    State { id: "voltage", unit: "V", about: "voltage at the load" },
    State { id: "current", unit: "A", about: "current through the load" },
    State { id: "power", unit: "W", about: "power in the load" },
    State { id: "hot_face", unit: "°C", about: "hot face of the module" },
    State { id: "cold_face", unit: "°C", about: "cold face of the module" },
    State { id: "open_voltage", unit: "V", about: "voltage that these faces would give without a load" },
    State { id: "heat_in", unit: "W", about: "heat that the module takes from its hot face" },
    State { id: "heat_out", unit: "W", about: "heat that the module gives to its cold face" },
    State { id: "efficiency", unit: "1", about: "power over heat taken in" },
];

impl Bench for ModuleLoad {
    fn id(&self) -> &'static str {
        "module-load"
    }

    fn inputs(&self) -> &'static [Input] {
        INPUTS
    }

    fn states(&self) -> &'static [State] {
        STATES
    }

    fn variable(&self) -> State {
        State { id: "load_resistance", unit: "Ω", about: "load resistor at the module" }
    }

    fn run(&self, settings: &Settings, at: &[f64]) -> Result<Run, BenchError> {
        settings.check(self)?;
        ascending(at)?;
        let of = |name| settings.get(name);
        let module = Thermoelectric {
            seebeck: of("seebeck"),
            resistance: of("module_resistance"),
            conductance: of("conductance"),
        };
        let faces = ModuleFaces {
            source: of("source_temperature"),
            sink: of("sink_temperature"),
            hot_resistance: of("hot_resistance"),
            cold_resistance: of("cold_resistance"),
        };
        let mut columns = vec![Vec::with_capacity(at.len()); STATES.len()];
        for &load in at {
            let (hot, cold) = faces.settle(&module, |difference| module.current(difference, 0.0, load));
            let current = module.current(hot, cold, load);
            let (power, heat_in) = (module.power(hot, cold, current), module.heat_in(hot, cold, current));
            let row = [
                current * load,
                current,
                power,
                hot - CELSIUS_ZERO,
                cold - CELSIUS_ZERO,
                module.open_voltage(hot, cold),
                heat_in,
                module.heat_out(hot, cold, current),
                if heat_in == 0.0 { 0.0 } else { power / heat_in },
            ];
            columns.iter_mut().zip(row).for_each(|(column, value)| column.push(value));
        }
        Ok(Run { columns, energy: None, limits: Vec::new() })
    }
}

//! A thermoelectric module between a warm and a cool body drives a small motor that winds up a load. In: its settings and
//! loads in g. Out: the steady states. It must not start the motor: what is read is the steady lift.
//!
//! # Equations
//! Module and faces as in [`super::ModuleFaces`]. Motor: `M = M_0 + m g r`, `I = M / k`, `U = α (T_h − T_c) − R I`,
//! `ω = (U − I R_a) / k`, see [`super::Motor`]. Lift: `v = ω r`, `t = h / v`, `P_m = m g v`.
//!
//! | symbol | meaning | unit |
//! | --- | --- | --- |
//! | α, R, K | module, see [`super::Thermoelectric`] | V/K, Ω, W/K |
//! | R_a, k, M_0 | motor: resistance, constant, friction torque with that of its gear | Ω, V s, N m |
//! | m, r, v | load, radius of the drum over the ratio of the gear, speed of the load | kg, m, m/s |
//! | h, t, P_m | height, time of the lift, lifting power | m, s, W |
//!
//! Sources: as in the components; g = 9.80665 m/s² (standard value).
//!
//! # Validity
//! Steady lift with a thread that is thin against the drum; loads that the motor lifts, others are refused.

use super::{
    Bench, BenchError, Input, ModuleFaces, Motor, Run, Settings, State, Thermoelectric, input, integrate::ascending,
    pump_drive::GRAVITY, thermoelectric::CELSIUS_ZERO,
};

/// The module with its motor.
#[derive(Debug, Clone, Copy)]
pub struct ModuleMotor;

static INPUTS: &[Input] = &[
    input("source_temperature", "°C", 85.0, (30.0, 95.0), "warm body"),
    input("sink_temperature", "°C", 15.0, (0.0, 40.0), "cool body"),
    input("hot_resistance", "K/W", 0.3, (0.0, 2.0), "heat resistance from the warm body to the hot face"),
    input("cold_resistance", "K/W", 0.3, (0.0, 2.0), "heat resistance from the cold face to the cool body"),
    input("seebeck", "V/K", 0.0513, (0.01, 0.08), "Seebeck coefficient of the module"),
    input("module_resistance", "Ω", 2.0, (0.5, 6.0), "electrical resistance of the module"),
    input("conductance", "W/K", 0.53, (0.2, 1.5), "heat conductance of the module"),
    input("motor_resistance", "Ω", 10.0, (1.0, 40.0), "resistance of the armature"),
    input("motor_constant", "V s", 0.01, (0.002, 0.05), "motor constant"),
    input("friction_torque", "mN m", 0.25, (0.01, 2.0), "friction of motor and gear, at the motor's shaft"),
    input("drum_radius", "mm", 0.5, (0.05, 10.0), "radius of the drum over the ratio of the gear"),
    input("height", "m", 0.8, (0.1, 3.0), "height of the lift"),
];

static STATES: &[State] = &[
    State { id: "voltage", unit: "V", about: "voltage at the motor" },
    State { id: "current", unit: "A", about: "current of the motor" },
    State { id: "power", unit: "W", about: "electrical power of the motor" },
    State { id: "speed", unit: "rad/s", about: "angular speed of the motor" },
    State { id: "lift_time", unit: "s", about: "time of the lift" },
    State { id: "lifting_power", unit: "W", about: "power that lifts the load" },
    State { id: "hot_face", unit: "°C", about: "hot face of the module" },
    State { id: "cold_face", unit: "°C", about: "cold face of the module" },
    State { id: "heat_in", unit: "W", about: "heat that the module takes from its hot face" },
    State { id: "heat_out", unit: "W", about: "heat that the module gives to its cold face" },
];

impl Bench for ModuleMotor {
    fn id(&self) -> &'static str {
        "module-motor"
    }

    fn inputs(&self) -> &'static [Input] {
        INPUTS
    }

    fn states(&self) -> &'static [State] {
        STATES
    }

    fn variable(&self) -> State {
        State { id: "load", unit: "g", about: "mass of the load" }
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
        let motor = Motor { resistance: of("motor_resistance"), constant: of("motor_constant") };
        let (friction, radius) = (of("friction_torque") / 1e3, of("drum_radius") / 1e3);
        let mut columns = vec![Vec::with_capacity(at.len()); STATES.len()];
        for &load in at {
            let weight = load / 1e3 * GRAVITY;
            let current = (friction + weight * radius) / motor.constant;
            let (hot, cold) = faces.settle(&module, |_| current);
            let voltage = module.voltage(hot, cold, current);
            let speed = (voltage - current * motor.resistance) / motor.constant;
            if speed <= 0.0 {
                return Err(BenchError::LeavesModel {
                    state: "speed",
                    reached: speed,
                    unit: "rad/s",
                    low: 0.0,
                    high: module.open_voltage(hot, cold) / motor.constant,
                });
            }
            let row = [
                voltage,
                current,
                voltage * current,
                speed,
                of("height") / (speed * radius),
                weight * speed * radius,
                hot - CELSIUS_ZERO,
                cold - CELSIUS_ZERO,
                module.heat_in(hot, cold, current),
                module.heat_out(hot, cold, current),
            ];
            columns.iter_mut().zip(row).for_each(|(column, value)| column.push(value));
        }
        Ok(Run { columns, energy: None, limits: Vec::new() })
    }
}

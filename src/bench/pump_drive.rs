//! A pump with a motor on direct current lifts water. In: its settings and voltages in V. Out: the steady states.
//! It must not warm the water: that is the pumped loop's.
//!
//! # Equations
//! Motor: `U = I R_a + k ω`, `k I = M_0 + c ω²`, see [`super::Motor`]; it stands while `U ≤ R_a M_0 / k`, with `I = U / R_a`.
//! Pump: `a ω² = ρ g h + b_1 q + b_2 q²`, no flow below `ω_0 = √(ρ g h / a)`, see [`super::RotorPump`].
//! `P = U I`, lifting power `ρ g h q`, collected volume `V = q t_c`, voltage at which the flow begins `U(ω_0)`.
//!
//! | symbol | meaning | unit |
//! | --- | --- | --- |
//! | U, I, P, ω | voltage, current, power, angular speed of the motor | V, A, W, rad/s |
//! | R_a, k | resistance, motor constant | Ω, V s |
//! | M_0, c | friction torque, coefficient of the rotor's torque | N m, N m s² |
//! | a, h, b_1, b_2 | pressure coefficient, lift, laminar and turbulent resistance | Pa s², m, Pa s/m³, Pa s²/m⁶ |
//! | q, ρ, t_c | volume flow, density of water, time of collecting | m³/s, kg/m³, s |
//!
//! Sources: as in [`super::Motor`] and [`super::RotorPump`]; g = 9.80665 m/s² (standard value); water: IAPWS R6-95.
//!
//! # Validity
//! Steady running; the rotor's torque grows with the square of its speed whether or not water flows.

use super::{
    Bench, BenchError, Input, Motor, RotorPump, Run, Settings, ShaftLoad, State, input, integrate::ascending, water,
};

/// Standard acceleration of free fall, m/s².
pub(crate) const GRAVITY: f64 = 9.80665;

/// The pump with its motor.
#[derive(Debug, Clone, Copy)]
pub struct PumpDrive;

static INPUTS: &[Input] = &[
    input("motor_resistance", "Ω", 6.0, (1.0, 20.0), "resistance of the armature"),
    input("motor_constant", "V s", 0.02, (0.005, 0.05), "motor constant"),
    input("friction_torque", "mN m", 1.5, (0.0, 5.0), "friction of bearings and brushes"),
    input("rotor_coefficient", "N m s2", 5e-8, (1e-9, 5e-7), "torque of the rotor per square of its speed"),
    input("pressure_coefficient", "Pa s2", 0.13, (0.01, 0.5), "pressure without flow per square of the speed"),
    input("lift", "m", 0.15, (0.0, 0.5), "height to which the water is lifted"),
    input("laminar_resistance", "Pa s/mL", 500.0, (0.0, 2000.0), "laminar resistance of pump and hoses"),
    input("turbulent_resistance", "Pa s2/mL2", 25.0, (1.0, 200.0), "turbulent resistance of pump and hoses"),
    input("collecting_time", "s", 20.0, (1.0, 600.0), "time for which water is collected"),
    input("water_temperature", "°C", 20.0, (5.0, 90.0), "temperature of the water"),
];

static STATES: &[State] = &[
    State { id: "current", unit: "A", about: "current of the motor" },
    State { id: "power", unit: "W", about: "electrical power of the motor" },
    State { id: "speed", unit: "rad/s", about: "angular speed" },
    State { id: "revolutions", unit: "rpm", about: "revolutions per minute" },
    State { id: "back_voltage", unit: "V", about: "back voltage of the motor" },
    State { id: "volume_flow", unit: "mL/s", about: "volume flow" },
    State { id: "collected_volume", unit: "mL", about: "water collected in the collecting time" },
    State { id: "lifting_power", unit: "W", about: "power that lifts the water" },
    State { id: "motor_efficiency", unit: "1", about: "mechanical over electrical power of the motor" },
    State { id: "starting_voltage", unit: "V", about: "voltage at which the flow begins" },
];

impl Bench for PumpDrive {
    fn id(&self) -> &'static str {
        "pump-drive"
    }

    fn inputs(&self) -> &'static [Input] {
        INPUTS
    }

    fn states(&self) -> &'static [State] {
        STATES
    }

    fn variable(&self) -> State {
        State { id: "voltage", unit: "V", about: "voltage of the motor" }
    }

    fn run(&self, settings: &Settings, at: &[f64]) -> Result<Run, BenchError> {
        const HIGHEST: f64 = 15.0;
        settings.check(self)?;
        ascending(at)?;
        let of = |name| settings.get(name);
        let motor = Motor { resistance: of("motor_resistance"), constant: of("motor_constant") };
        let shaft = ShaftLoad { constant: of("friction_torque") / 1e3, quadratic: of("rotor_coefficient") };
        let lift = water::density(of("water_temperature")) * GRAVITY * of("lift");
        let pump = RotorPump {
            pressure: of("pressure_coefficient"),
            lift,
            laminar: 1e6 * of("laminar_resistance"),
            turbulent: 1e12 * of("turbulent_resistance"),
        };
        let starting = motor.voltage(pump.starting_speed(), shaft);
        let mut columns = vec![Vec::with_capacity(at.len()); STATES.len()];
        for &voltage in at {
            if voltage > HIGHEST {
                let (low, high) = (0.0, HIGHEST);
                return Err(BenchError::LeavesModel { state: "voltage", reached: voltage, unit: "V", low, high });
            }
            let speed = motor.speed(voltage, shaft);
            let (current, flow) = (motor.current(voltage, speed), pump.flow(speed));
            let row = [
                current,
                voltage * current,
                speed,
                speed * 60.0 / (2.0 * std::f64::consts::PI),
                motor.back_voltage(speed),
                1e6 * flow,
                1e6 * flow * of("collecting_time"),
                lift * flow,
                if voltage > 0.0 { motor.efficiency(voltage, speed) } else { 0.0 },
                starting,
            ];
            columns.iter_mut().zip(row).for_each(|(column, value)| column.push(value));
        }
        Ok(Run { columns, energy: None, limits: Vec::new() })
    }
}

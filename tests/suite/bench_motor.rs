//! Divider, motor and pump against published cases, and what must hold on their benches wherever their models hold.

use labquire::bench::{Divider, LoadedDivider, Motor, PumpDrive, RotorPump, ShaftLoad, rotor_pump::affinity};
use proptest::prelude::*;

use crate::{
    bench_circuits::{column, run},
    reference::assert_near,
};

/// Source: Robertson, Fundamental Electrical and Electronic Principles, example 5.16 (12 V, 30 Ω and 70 Ω, meter 200 Ω):
/// 8.4 V true, 7.6 V read, 9.5 % low.
#[test]
fn a_meter_of_low_resistance_reads_low() {
    let divider = Divider { voltage: 12.0, top: 30.0, bottom: 70.0 };
    assert_near(divider.unloaded(), 8.4, 1e-12, "true");
    assert_near(divider.loaded(200.0), 7.601_809_955, 1e-9, "read");
    let error = 100.0 * (divider.loaded(200.0) / divider.unloaded() - 1.0);
    assert_near(error, -9.502_262_443, 1e-9, "error in per cent");
}

/// Source: closed form, 9 V at a track of 100 Ω with 50 Ω at its slider.
#[test]
fn a_loaded_potentiometer_sags_in_the_middle() {
    let changes = [
        ("supply_voltage", 9.0),
        ("track_resistance", 100.0),
        ("load_resistance", 50.0),
        ("voltmeter_resistance", 1e9),
    ];
    let found = run(&LoadedDivider, &changes, &[0.0, 0.25, 0.5, 0.75, 1.0]).expect("in range");
    let of = |id| column(&LoadedDivider, &found, id);
    for (found, wanted) in of("loaded_voltage").iter().zip([0.0, 1.636_363_636, 3.0, 4.909_090_909, 9.0]) {
        assert_near(*found, wanted, 1e-6, "loaded");
    }
    for (found, wanted) in of("unloaded_voltage").iter().zip([0.0, 2.25, 4.5, 6.75, 9.0]) {
        assert_near(*found, wanted, 1e-6, "unloaded");
    }
    assert!(run(&LoadedDivider, &[], &[1.2]).is_err(), "the slider has left its track");
}

/// Source: closed form of `U = I R_a + k ω`, `k I = c ω²`; 4 Ω, 0.02 V s, 2e-7 N m s², 7.5 V and 3.75 V.
#[test]
fn a_motor_turns_until_its_torque_is_used_up() {
    let (motor, load) = (Motor { resistance: 4.0, constant: 0.02 }, ShaftLoad { constant: 0.0, quadratic: 2e-7 });
    for (voltage, speed, current) in [(7.5, 250.0, 0.625), (3.75, 145.284_707_5, 0.211_076_462_4)] {
        assert_near(motor.speed(voltage, load), speed, 1e-9, "speed");
        assert_near(motor.current(voltage, speed), current, 1e-7, "current");
        assert_near(motor.voltage(speed, load), voltage, 1e-8, "voltage");
    }
    assert_near(motor.blocked_current(7.5), 1.875, 1e-12, "blocked");
}

/// Source: similarity laws of rotor pumps, half the speed gives half the flow, a quarter of the pressure, an eighth of the
/// power (from memory).
#[test]
fn similar_points_follow_the_affinity_laws() {
    assert_eq!(affinity(0.5), (0.5, 0.25, 0.125));
    // A line of turbulent resistance without lift keeps the points similar.
    let pump = RotorPump { pressure: 0.1, lift: 0.0, laminar: 0.0, turbulent: 1.5e13 };
    assert_near(pump.flow(150.0) / pump.flow(300.0), 0.5, 1e-12, "flow");
    let pressure = |speed: f64| pump.turbulent * pump.flow(speed) * pump.flow(speed);
    assert_near(pressure(150.0) / pressure(300.0), 0.25, 1e-12, "pressure");
    assert_near(pressure(150.0) * pump.flow(150.0) / (pressure(300.0) * pump.flow(300.0)), 0.125, 1e-12, "power");
}

/// The bench as it is suits a lesson: physics of small pumps, 2 to 15 mL/s, the flow begins at 1.5 to 3 V.
#[test]
fn the_pump_as_it_is_delivers_what_small_pumps_deliver() {
    let found = run(&PumpDrive, &[], &[0.0, 6.0, 9.0]).expect("in range");
    let of = |id| column(&PumpDrive, &found, id);
    assert!((2.0..15.0).contains(&of("volume_flow")[1]) && of("volume_flow")[0] == 0.0);
    assert!((1.5..3.0).contains(&of("starting_voltage")[0]));
    assert!((0.1..0.6).contains(&of("current")[1]));
    assert!(run(&PumpDrive, &[], &[40.0]).is_err(), "far above what such motors stand");
}

proptest! {
    #[test]
    fn a_load_never_raises_the_voltage(
        supply in 1.0..25.0f64, track in 10.0..1e4f64, load in 1.0..1e6f64, meter in 1e4..1e9f64, slider in 0.0..=1.0f64,
    ) {
        let changes = [
            ("supply_voltage", supply), ("track_resistance", track), ("load_resistance", load), ("voltmeter_resistance", meter),
        ];
        let run = run(&LoadedDivider, &changes, &[slider]).expect("in range");
        let of = |id| column(&LoadedDivider, &run, id)[0];
        prop_assert!(of("loaded_voltage") <= of("unloaded_voltage") * (1.0 + 1e-12));
        let meter_power = of("loaded_voltage") * of("loaded_voltage") / meter;
        let sum = of("load_power") + of("track_heat") + meter_power;
        prop_assert!((sum - of("supply_power")).abs() <= 1e-9 * of("supply_power"), "{sum}");
        prop_assert!((0.0..1.0 + 1e-12).contains(&of("efficiency")));
        // The same as a source with internal resistance.
        let source = Divider::potentiometer(supply, track, slider).as_source();
        let parallel = meter * load / (meter + load);
        prop_assert!((source.voltage_at(parallel) - of("loaded_voltage")).abs() <= 1e-9 * supply);
    }

    #[test]
    fn loaded_and_unloaded_meet_at_both_ends(supply in 1.0..25.0f64, track in 10.0..1e4f64, load in 1.0..1e6f64) {
        let changes = [("supply_voltage", supply), ("track_resistance", track), ("load_resistance", load)];
        let run = run(&LoadedDivider, &changes, &[0.0, 1.0]).expect("in range");
        let (loaded, free) = (column(&LoadedDivider, &run, "loaded_voltage"), column(&LoadedDivider, &run, "unloaded_voltage"));
        prop_assert!(loaded[0] == 0.0 && free[0] == 0.0);
        prop_assert!((loaded[1] - supply).abs() <= 1e-12 * supply && (free[1] - supply).abs() <= 1e-12 * supply);
    }

    #[test]
    fn a_motor_gives_less_than_it_takes_and_takes_less_the_faster_it_turns(
        resistance in 1.0..20.0f64, constant in 0.005..0.05f64, friction in 0.0..0.005f64, quadratic in 1e-9..5e-7f64,
        voltage in 0.1..15.0f64,
    ) {
        let (motor, load) = (Motor { resistance, constant }, ShaftLoad { constant: friction, quadratic });
        let speed = motor.speed(voltage, load);
        prop_assert!(motor.efficiency(voltage, speed) < 1.0);
        let current = motor.current(voltage, speed);
        prop_assert!(current <= motor.blocked_current(voltage) && current > 0.0);
        prop_assert!(motor.current(voltage, 0.9 * speed) >= current);
        if speed > 0.0 {
            prop_assert!((motor.torque(current) - friction - quadratic * speed * speed).abs() < 1e-9);
        }
    }

    #[test]
    fn no_water_flows_below_the_starting_voltage(lift in 0.01..0.5f64, friction in 0.0..5.0f64, pressure in 0.01..0.5f64) {
        let changes = [("lift", lift), ("friction_torque", friction), ("pressure_coefficient", pressure)];
        let first = run(&PumpDrive, &changes, &[0.0]).expect("in range");
        let start = column(&PumpDrive, &first, "starting_voltage")[0];
        prop_assume!(start < 10.0);
        let at = [0.999 * start, 1.001 * start, 1.2 * start, 1.4 * start];
        let run = run(&PumpDrive, &changes, &at).expect("in range");
        let flow = column(&PumpDrive, &run, "volume_flow");
        prop_assert!(flow[0] == 0.0 && flow[1] > 0.0 && flow.windows(2).all(|pair| pair[0] < pair[1]), "{flow:?}");
        let power = (column(&PumpDrive, &run, "lifting_power"), column(&PumpDrive, &run, "power"));
        prop_assert!(power.0[3] < power.1[3]);
    }
}

//! Circulation without a pump: published and solved cases, an independent solution, and what must always hold.

use labquire::bench::{Bench, BenchError, Fluid, Pipe, Run, Settings, Siphon, Thermosiphon, water};
use proptest::prelude::*;

use crate::reference::{assert_near, number, rows};

fn settings(changes: &[(&str, f64)]) -> Settings {
    let mut settings = Settings::defaults(&Thermosiphon);
    changes.iter().for_each(|(name, value)| settings.set(name, *value).expect("an input of the bench"));
    settings
}

fn column<'a>(run: &'a Run, id: &str) -> &'a [f64] {
    let place = Thermosiphon.states().iter().position(|state| state.id == id);
    &run.columns[place.expect("a state of the bench")]
}

/// Asserts a relative agreement, also for small numbers.
fn assert_ratio(found: f64, wanted: f64, tolerance: f64, what: &str) {
    assert_near(found / wanted, 1.0, tolerance, what);
}

/// Water at 30 °C from IAPWS-95, in a loop of 8 mm tube, 1 m long, 0.25 m high.
fn loop_at_30(minor: f64) -> Siphon {
    Siphon {
        fluid: Fluid { density: 995.6494539, viscosity: 0.0007972217998 },
        expansion: 0.000303376794,
        heat_capacity: 4179.819672,
        pipe: Pipe { diameter: 0.008, length: 1.0, minor },
        height: 0.25,
        gravity: 9.81,
    }
}

/// Source: Munson, Young and Okiishi, Example 8.2 (published Re 2.87, 20 400 Pa, −13.34°).
#[test]
fn oil_creeps_through_a_tube() {
    let oil = Fluid { density: 900.0, viscosity: 0.4 };
    let pipe = Pipe { diameter: 0.02, length: 10.0, minor: 0.0 };
    let flow = 2.0e-5 * 900.0;
    assert_near(pipe.reynolds(oil, flow), 2.864_788_976, 1e-3, "Reynolds number");
    assert_ratio(pipe.drop(oil, flow), 20_371.832_72, 1e-4, "drop of pressure");
    assert_near(pipe.slope(oil, flow, 9.81).expect("oil runs down"), -13.340_507_9, 5e-4, "slope");
}

/// Source: closed form with properties of CoolProp (IAPWS-95).
#[test]
fn buoyancy_balances_laminar_friction() {
    let siphon = loop_at_30(0.0);
    let flow = siphon.flow(12.0);
    assert_ratio(flow, 0.000_516_742_687_4, 1e-5, "flow");
    let rise = siphon.rise(12.0).expect("it flows");
    assert_ratio(rise, 5.555_835_276, 1e-5, "rise");
    assert_ratio(siphon.pipe.reynolds(siphon.fluid, flow), 103.160_943_4, 1e-4, "Reynolds number");
    assert_ratio(siphon.drive(rise), 4.115_733_014, 1e-5, "drive");
    assert_near(siphon.flow(48.0) / flow, 2.0, 1e-9, "four times the power");
}

/// Source: scipy brentq on the same balance with K = 6.
#[test]
fn fittings_slow_the_stream_and_lower_the_exponent() {
    let siphon = loop_at_30(6.0);
    let (slow, fast) = (siphon.flow(12.0), siphon.flow(24.0));
    assert_ratio(slow, 0.000_498_475_399_5, 1e-5, "flow at 12 W");
    assert_ratio(fast, 0.000_695_470_928, 1e-5, "flow at 24 W");
    assert_ratio(siphon.rise(12.0).expect("it flows"), 5.759_436_181, 1e-5, "rise at 12 W");
    assert_ratio(siphon.rise(24.0).expect("it flows"), 8.256_095_649, 1e-5, "rise at 24 W");
    assert_near((fast / slow).log2(), 0.480_467_901_4, 1e-4, "exponent");
}

/// Source: viscosity of IAPWS R12-08 at 101 325 Pa (tests/reference/water_properties_1atm.csv).
#[test]
fn viscosity_follows_iapws() {
    for row in rows("water_properties_1atm.csv") {
        let t = number(&row[0]);
        assert_ratio(water::viscosity(t), number(&row[4]), 1e-4, "viscosity");
    }
}

/// Source: scipy `fsolve` of both balances at once, tests/reference/thermosiphon.py.
#[test]
fn states_agree_with_an_independent_solution() {
    for row in rows("thermosiphon.csv") {
        let changes: Vec<(&str, f64)> = row[1]
            .split(';')
            .filter_map(|part| part.split_once('='))
            .map(|(name, value)| (name, number(value)))
            .collect();
        if row[0] == "0" {
            assert_eq!(settings(&changes), Settings::defaults(&Thermosiphon));
        }
        let run = Thermosiphon.run(&settings(&changes), &[number(&row[2])]).expect("in range");
        assert_ratio(column(&run, "hot_temperature")[0], number(&row[3]), 1e-6, "hot");
        assert_ratio(column(&run, "flow")[0], number(&row[4]), 1e-6, "flow");
        assert_ratio(column(&run, "drive")[0], number(&row[5]), 1e-6, "drive");
    }
}

#[test]
fn boiling_is_refused() {
    let thin = settings(&[("tube_diameter", 5.0), ("height", 0.05), ("tube_length", 3.0)]);
    let error = Thermosiphon.run(&thin, &[60.0]).expect_err("hardly any flow");
    assert!(matches!(error, BenchError::TooHot { .. }), "{error}");
    let error = Thermosiphon.run(&settings(&[]), &[61.0]).expect_err("beyond the heater");
    assert!(matches!(error, BenchError::OutOfRange { name: "power", .. }), "{error}");
}

/// Water is densest near 4 °C (3.98 °C at 101 325 Pa, IAPWS-95): below it, warming makes it heavier.
#[test]
fn the_drive_vanishes_near_four_degrees() {
    let run = |cold: f64| {
        let settings = settings(&[("cold_temperature", cold), ("jacket_loss", 0.0)]);
        let run = Thermosiphon.run(&settings, &[0.01]).expect("in range");
        (column(&run, "hot_temperature")[0] - cold, column(&run, "flow")[0])
    };
    let (near, warm) = (run(3.98), run(20.0));
    assert!(near.1 < 0.5 * warm.1, "{near:?} {warm:?}");
    // From 2 °C the water must pass the mirror image of its density, near 6 °C, before it rises.
    assert!(run(2.0).0 > 3.9, "{:?}", run(2.0));
    let shrinking = Siphon { expansion: -3.0e-5, ..loop_at_30(6.0) };
    assert_eq!((shrinking.flow(12.0), shrinking.rise(12.0)), (0.0, None));
}

proptest! {
    /// Laminar: flow and rise as the root of the power, flow as the square of the diameter and the root of the height.
    /// Fittings: the exponent lies between 1/3 and 1/2. No flow with the cooler beside or below the heater.
    #[test]
    fn powers_of_the_loop(
        power in 1.0..60.0f64, height in 0.05..0.6f64, diameter in 0.005..0.016f64, length in 0.4..3.0f64,
        minor in 0.0..20.0f64, factor in 1.1..5.0f64,
    ) {
        let pipe = Pipe { diameter, length, minor: 0.0 };
        let laminar = Siphon { height, pipe, ..loop_at_30(0.0) };
        let flow = laminar.flow(power);
        prop_assert!((laminar.flow(factor * power) / flow / factor.sqrt() - 1.0).abs() < 1e-9);
        let rises = laminar.rise(factor * power).expect("it flows") / laminar.rise(power).expect("it flows");
        prop_assert!((rises / factor.sqrt() - 1.0).abs() < 1e-9);
        let wide = Siphon { pipe: Pipe { diameter: factor * diameter, ..pipe }, ..laminar };
        prop_assert!((wide.flow(power) / flow / (factor * factor) - 1.0).abs() < 1e-9);
        let high = Siphon { height: factor * height, ..laminar };
        prop_assert!((high.flow(power) / flow / factor.sqrt() - 1.0).abs() < 1e-9);
        let bent = Siphon { pipe: Pipe { minor, ..pipe }, ..laminar };
        let exponent = (bent.flow(factor * power) / bent.flow(power)).ln() / factor.ln();
        prop_assert!((1.0 / 3.0 - 1e-9..=0.5 + 1e-9).contains(&exponent), "{exponent}");
        for height in [0.0, -height] {
            prop_assert_eq!(Siphon { height, ..bent }.flow(power), 0.0);
        }
    }

    /// The bench, with properties that change: the ledger closes, more power means more flow and a warmer heater, and a
    /// higher cooler more flow. What would boil or swirl is refused.
    #[test]
    fn more_power_more_flow(
        power in 0.5..30.0f64, height in 0.05..0.3f64, diameter in 5.0..16.0f64, length in 0.4..3.0f64,
        minor in 0.0..20.0f64, jacket in 0.0..0.5f64, cold in 1.0..40.0f64, factor in 1.1..2.0f64, room in 5.0..40.0f64,
    ) {
        let mut set = settings(&[
            ("height", height), ("tube_diameter", diameter), ("tube_length", length), ("fittings", minor),
            ("jacket_loss", jacket), ("cold_temperature", cold), ("room_temperature", room),
        ]);
        let low = Thermosiphon.run(&set, &[power, factor * power]);
        prop_assume!(low.is_ok());
        let low = low.expect("checked");
        let energy = low.energy.expect("heat flows");
        prop_assert!(energy.residual().abs() <= 1e-6 * energy.supplied, "{energy:?}");
        let (flow, hot) = (column(&low, "flow"), column(&low, "hot_temperature"));
        prop_assume!(flow[0] > 0.0);
        prop_assert!(flow[1] > flow[0] && hot[1] > hot[0] && hot[0] > cold, "{flow:?} {hot:?}");
        set.set("height", factor * height).expect("an input");
        if let Ok(high) = Thermosiphon.run(&set, &[power]) {
            prop_assert!(column(&high, "flow")[0] > flow[0]);
        }
    }
}

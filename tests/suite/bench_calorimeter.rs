//! The calorimeter: published mixtures, an independent integration, and what must hold.

use labquire::bench::{Bench, Calorimeter, Run, Settings, mixture};
use proptest::prelude::*;

use crate::reference::{assert_near, number, rows};

fn run(changes: &[(&str, f64)], at: &[f64]) -> Run {
    let mut settings = Settings::defaults(&Calorimeter);
    for (name, value) in changes {
        settings.set(name, *value).expect("an input of the bench");
    }
    Calorimeter.run(&settings, at).expect("in range")
}

fn column<'a>(run: &'a Run, id: &str) -> &'a [f64] {
    let place = Calorimeter.states().iter().position(|state| state.id == id);
    &run.columns[place.expect("a state of the bench")]
}

/// Source: Cengel and Boles, Thermodynamics, example 4-12: 50 kg of iron (450 J/(kg K)) at 80 °C into 0.5 m³ of water
/// (0.001 m³/kg, 4180 J/(kg K)) at 25 °C: 25.6 °C.
#[test]
fn hot_iron_into_water() {
    let t = mixture::common_temperature(&[(50.0 * 450.0, 80.0), (500.0 * 4180.0, 25.0)]);
    assert_near(t, 25.585_798_82, 1e-9, "temperature");
}

/// Source: public worked answer: 0.153 kg of aluminium (900 J/(kg K)) at 85.1 °C into 0.297 kg of water (4186 J/(kg K)) at
/// 23.5 °C: 29.64 °C.
#[test]
fn an_aluminium_block_into_a_cup() {
    let (water, block) = (0.297 * 4186.0, 0.153);
    let t = mixture::common_temperature(&[(water, 23.5), (block * 900.0, 85.1)]);
    assert_near(t, 29.642_415_83, 1e-9, "temperature");
    assert_near(mixture::capacity_of_body(water, 23.5, block, 85.1, t), 900.0, 1e-9, "and back");
}

/// Source: energy balance; IAPWS-95 enthalpy: 0.1 kg at 80 °C with 0.15 kg at 20 °C: 44 °C at constant c_p, 44.0219 °C with
/// real water, 42.6968 °C with a cup of 60 J/K (4180 J/(kg K)).
#[test]
fn two_waters_mixed() {
    let c = 4180.0;
    let waters = [(0.1 * c, 80.0), (0.15 * c, 20.0)];
    assert_near(mixture::common_temperature(&waters), 44.0, 1e-12, "constant heat capacity");
    let cup = [waters[0], waters[1], (60.0, 20.0)];
    assert_near(mixture::common_temperature(&cup), 42.696_832_58, 1e-8, "with a cup");
    let real = mixture::common_temperature_of_water(&[(0.1, 80.0), (0.15, 20.0)], &[]);
    assert!((real - 44.021_906_84).abs() < 1e-3, "{real}");
    assert!(mixture::common_temperature_of_water(&[], &[]).is_nan());
}

/// Source: scipy `solve_ivp` (DOP853 at rtol 1e-12, confirmed by Radau), tests/reference/calorimeter.py.
#[test]
fn states_agree_with_an_independent_integration() {
    for row in rows("calorimeter.csv") {
        let changes: Vec<(&str, f64)> = row[1]
            .split(';')
            .map(|part| part.split_once('=').map(|(name, value)| (name, number(value))).expect("name=value"))
            .collect();
        let cell = |place: usize| number(&row[place]);
        let run = run(&changes, &[0.0, cell(2)]);
        assert_near(column(&run, "water_temperature")[1], cell(3), 1e-8, "water");
        assert_near(column(&run, "probe_temperature")[1], cell(4), 1e-8, "sensor");
        assert_near(column(&run, "body_temperature")[1], cell(5), 1e-8, "body");
        assert!((run.energy.expect("heat flows").lost - cell(6)).abs() < 1e-5, "lost");
    }
}

#[test]
fn nothing_happens_before_the_body_is_put_in() {
    let run = run(&[("start_temperature", 20.0)], &[0.0, 60.0, 120.0, 121.0]);
    assert_eq!(column(&run, "water_temperature")[..3], [20.0; 3]);
    assert_eq!(column(&run, "body_temperature")[..3], [95.0; 3]);
    assert!(column(&run, "water_temperature")[3] > 20.1);
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 64, ..ProptestConfig::default() })]

    #[test]
    fn the_ledger_closes(
        water in 0.05..0.5f64, cup in 0.0..200.0f64, loss in 0.0..0.5f64, mass in 0.02..0.5f64, c in 100.0..4500.0f64,
        hot in 30.0..100.0f64, transfer in 1.0..50.0f64, cold in 2.0..90.0f64, end in 1.0..3600.0f64,
    ) {
        let changes = [
            ("water_mass", water), ("calorimeter_capacity", cup), ("loss", loss), ("body_mass", mass),
            ("body_heat_capacity", c), ("body_temperature", hot), ("transfer", transfer), ("start_temperature", cold),
        ];
        let run = run(&changes, &[end]);
        let energy = run.energy.expect("heat flows");
        // Without losses all that is compared is the heat that passed from body to water.
        let passed = (mass * c * (hot - column(&run, "body_temperature")[0])).abs().max(energy.lost.abs()).max(1.0);
        prop_assert!(energy.residual().abs() <= 1e-6 * passed, "{energy:?}");
    }

    /// Without loss the end is that of the mixture, computed by enthalpies alone.
    #[test]
    fn a_perfect_calorimeter_reaches_the_mixture(
        water in 0.05..0.5f64, cup in 0.0..200.0f64, mass in 0.02..0.5f64, c in 100.0..1000.0f64, hot in 30.0..100.0f64,
    ) {
        let changes = [
            ("water_mass", water), ("calorimeter_capacity", cup), ("loss", 0.0), ("body_mass", mass),
            ("body_heat_capacity", c), ("body_temperature", hot), ("transfer", 20.0), ("entry_time", 0.0),
        ];
        let end = run(&changes, &[3600.0]);
        let t = mixture::common_temperature_of_water(&[(water, 18.0)], &[(cup, 18.0), (mass * c, hot)]);
        prop_assert!((column(&end, "water_temperature")[0] - t).abs() < 1e-6);
        prop_assert!((column(&end, "probe_temperature")[0] - t).abs() < 1e-6);
    }
}

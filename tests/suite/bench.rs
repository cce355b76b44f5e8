//! The pumped loop against independent solutions, standards, and what must hold over its whole range.

use labquire::bench::{self, Bench, BenchError, Collector, PumpedLoop, Run, Settings};
use proptest::prelude::*;

use crate::reference::{assert_near, number, rows};

const WATER: usize = 0;
const PLATE: usize = 1;
const OUTLET: usize = 2;

fn settings(changes: &[(&str, f64)]) -> Settings {
    let mut settings = Settings::defaults(&PumpedLoop);
    for (name, value) in changes {
        settings.set(name, *value).expect("an input of the bench");
    }
    settings
}

fn run(changes: &[(&str, f64)], at: &[f64]) -> Run {
    PumpedLoop.run(&settings(changes), at).expect("settings in range")
}

/// Source: scipy `solve_ivp` (Radau, rtol 1e-12) on the documented equations, tests/reference/pumped_loop.py.
#[test]
fn states_agree_with_an_independent_integration() {
    for row in rows("pumped_loop.csv") {
        let changes: Vec<(&str, f64)> = row[1]
            .split(';')
            .filter(|part| !part.is_empty())
            .map(|part| part.split_once('=').map(|(name, value)| (name, number(value))).expect("name=value"))
            .collect();
        let time = number(&row[2]);
        let run = run(&changes, &[0.0, time]);
        assert_near(run.columns[PLATE][1], number(&row[3]), 1e-6, "plate");
        assert_near(run.columns[WATER][1], number(&row[4]), 1e-6, "water");
        let energy = run.energy.expect("heat flows");
        assert_near(energy.supplied, number(&row[5]), 1e-6, "supplied");
        assert_near(energy.lost, number(&row[6]), 1e-6, "lost");
    }
}

/// Source: ISO 9806 quadratic form with η_0 = 0.775, a_1 = 3.75, a_2 = 0.02 at 800 W/m² and 40 K: 0.5475;
/// at 1000 W/m² the efficiency vanishes 124.2845443 K above the surroundings (closed root).
#[test]
fn collector_efficiency_follows_the_quadratic_form() {
    let collector =
        Collector { area: 1.7, optical_efficiency: 0.775, loss_linear: 3.75, loss_quadratic: 0.02, transfer: 1.0 };
    assert_near(collector.efficiency(800.0, 40.0), 0.5475, 1e-12, "efficiency");
    assert!(collector.efficiency(1000.0, 124.284_544_3).abs() < 1e-9, "efficiency at stagnation");
}

/// Source: two-node system with constant coefficients, matrix exponential (C 60 and 840 J/K, hA 6, UA 0.25 and 0.1 W/K,
/// 19 W, 20 °C): absorber 41.654 °C and water 39.515 °C after 1200 s, limits 74.541 °C and 73.647 °C.
///
/// The bench's water has a heat capacity that varies with temperature, so the comparison is within 0.05 K.
#[test]
fn two_node_case_is_reproduced() {
    // A large flow makes the passage ṁ c ε equal to UA; no pump heat, linear losses.
    let area = 0.05;
    let changes = [
        ("plate_area", area),
        ("loss_linear", 0.25 / area),
        ("loss_quadratic", 0.0),
        ("plate_capacity", 60.0),
        ("plate_transfer", 6.0),
        ("flow", 50.0),
        ("vessel_loss", 0.1),
        ("vessel_capacity", 0.0),
        ("water_mass", 840.0 / 4181.0),
        ("pump_heat_share", 0.0),
    ];
    // Light for 19 W on the plate: solved for the lamp's power, in which the irradiance is linear.
    let dim: Vec<_> = changes.iter().copied().chain([("lamp_power", 20.0)]).collect();
    let light = run(&dim, &[0.0]).columns[3][0];
    let power = 20.0 * 19.0 / (light * area * 0.92);
    let changes: Vec<_> = changes.into_iter().chain([("lamp_power", power)]).collect();
    let run = run(&changes, &[0.0, 60.0, 600.0, 1200.0]);
    for (row, plate, water) in
        [(1, 23.839_050_72, 21.028_629_31), (2, 33.240_662_62, 30.782_498_74), (3, 41.654_460_36, 39.514_926_14)]
    {
        assert!((run.columns[PLATE][row] - plate).abs() < 0.2, "plate: {} against {plate}", run.columns[PLATE][row]);
        assert!((run.columns[WATER][row] - water).abs() < 0.05, "water: {} against {water}", run.columns[WATER][row]);
    }
    let water_limit = run.limits[0].value;
    assert!((water_limit - 73.647_058_82).abs() < 0.1, "limit {water_limit}");
}

#[test]
fn half_the_tolerance_changes_nothing_visible() {
    let at: Vec<f64> = (0..16).map(|row| f64::from(row) * 240.0).collect();
    for changes in [&[][..], &[("flow", 1.0), ("plate_capacity", 5.0)], &[("water_mass", 0.03), ("loss_linear", 30.0)]]
    {
        let settings = settings(changes);
        let usual = PumpedLoop.run(&settings, &at).expect("in range");
        let finer = PumpedLoop.run_with_tolerance(&settings, &at, 0.5).expect("in range");
        for (one, other) in usual.columns.iter().flatten().zip(finer.columns.iter().flatten()) {
            assert!((one - other).abs() < 1e-3, "{one} and {other}");
        }
    }
}

#[test]
fn a_long_run_ends_at_the_algebraic_limit() {
    for changes in [&[][..], &[("loss_linear", 8.0), ("lamp_distance", 0.4)], &[("flow", 1.0)]] {
        let run = run(changes, &[0.0, 40_000.0, 80_000.0]);
        for limit in &run.limits {
            let state = PumpedLoop.states().iter().position(|state| state.id == limit.state).expect("a state");
            assert!((run.columns[state][2] - limit.value).abs() < 1e-3, "{}: {}", limit.state, limit.value);
        }
    }
}

#[test]
fn boiling_is_refused_with_the_number() {
    let hot = settings(&[("loss_linear", 3.0), ("loss_quadratic", 0.0), ("lamp_distance", 0.2)]);
    match PumpedLoop.run(&hot, &[0.0, 60.0]) {
        Err(error @ BenchError::TooHot { limit, .. }) => {
            assert!(limit > 95.0);
            assert!(error.to_string().contains(&format!("{limit:.1} °C")), "{error}");
        }
        other => panic!("{other:?}"),
    }
}

#[test]
fn settings_outside_the_model_are_refused() {
    let far = settings(&[("plate_area", 2.0)]);
    let error = PumpedLoop.run(&far, &[0.0]).expect_err("two square metres are no bench");
    assert_eq!(error.to_string(), "`plate_area` is 2 m2, but the model holds from 0.01 to 0.25 m2");
    let mut settings = Settings::defaults(&PumpedLoop);
    let error = settings.set("plate_aera", 0.04).expect_err("a misspelt name");
    assert!(matches!(error, BenchError::UnknownInput { near: Some(near), .. } if near == "plate_area"));
}

#[test]
fn every_bench_runs_with_its_own_values() {
    for bench in bench::all() {
        let settings = Settings::defaults(*bench);
        let run = bench.run(&settings, &[0.0, 1.0]).unwrap_or_else(|error| panic!("{}: {error}", bench.id()));
        assert_eq!(run.columns.len(), bench.states().len());
        for input in bench.inputs() {
            assert!((input.valid.0..=input.valid.1).contains(&input.default), "{} of {}", input.name, bench.id());
        }
    }
}

fn any_settings() -> impl Strategy<Value = Vec<(&'static str, f64)>> {
    (0.02..0.05f64, 11.0..25.0f64, 0.05..0.3f64, 1.0..10.0f64, 0.28..0.6f64, 10.0..30.0f64, 0.05..0.2f64).prop_map(
        |(area, loss, water, flow, distance, room, vessel)| {
            vec![
                ("plate_area", area),
                ("loss_linear", loss),
                ("water_mass", water),
                ("flow", flow),
                ("lamp_distance", distance),
                ("room_temperature", room),
                ("vessel_loss", vessel),
            ]
        },
    )
}

fn changed(base: &[(&'static str, f64)], name: &'static str, value: f64) -> Vec<(&'static str, f64)> {
    base.iter().copied().filter(|(own, _)| *own != name).chain([(name, value)]).collect()
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(64))]

    #[test]
    fn the_ledger_closes(changes in any_settings(), end in 60.0..7200.0f64) {
        let energy = run(&changes, &[0.0, end]).energy.expect("heat flows");
        prop_assert!(energy.residual().abs() <= 1e-6 * energy.supplied, "{energy:?}");
    }

    #[test]
    fn water_rises_ever_more_slowly_towards_its_limit(changes in any_settings()) {
        let at: Vec<f64> = (0..30).map(|row| f64::from(row) * 120.0).collect();
        let run = run(&changes, &at);
        let limit = run.limits[0].value;
        let water = &run.columns[WATER];
        prop_assert!(water.iter().all(|&t| t <= limit + 1e-6));
        // The first two minutes belong to the plate, which has to warm up itself.
        let steps: Vec<f64> = water.windows(2).skip(1).map(|pair| pair[1] - pair[0]).collect();
        prop_assert!(steps.windows(2).all(|pair| pair[1] <= pair[0] + 1e-9), "{steps:?}");
        // A strong pump on a dim plate warms the water above the plate.
        let hottest = limit.max(run.limits[1].value);
        prop_assert!(run.columns[OUTLET].iter().all(|&t| t <= hottest + 1e-6));
    }

    #[test]
    fn more_flow_means_a_smaller_rise_across_the_collector(changes in any_settings()) {
        let rise = |flow| {
            let run = run(&changed(&changes, "flow", flow), &[0.0, 600.0]);
            run.columns[OUTLET][1] - run.columns[WATER][1]
        };
        prop_assert!(rise(8.0) < rise(2.0));
    }

    #[test]
    fn more_light_means_a_higher_limit(changes in any_settings()) {
        let limit = |distance| run(&changed(&changes, "lamp_distance", distance), &[0.0]).limits[0].value;
        prop_assert!(limit(0.35) > limit(0.45));
    }

    #[test]
    fn efficiency_falls_with_the_temperature_difference(light in 300.0..1200.0f64, excess in 0.0..60.0f64) {
        let collector = Collector { area: 0.04, optical_efficiency: 0.9, loss_linear: 12.0, loss_quadratic: 0.05, transfer: 8.0 };
        prop_assert!(collector.efficiency(light, excess + 1.0) < collector.efficiency(light, excess));
        prop_assert!(collector.efficiency(light, 0.0) < 1.0);
    }
}

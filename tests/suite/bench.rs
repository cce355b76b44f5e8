//! What every bench keeps, and what it says when it refuses to run.

use labquire::bench::{self, Bench, BenchError, PumpedLoop, Run, Settings};

/// Settings of the pumped loop that differ from its own ones.
pub(crate) fn settings(changes: &[(&str, f64)]) -> Settings {
    let mut settings = Settings::defaults(&PumpedLoop);
    for (name, value) in changes {
        settings.set(name, *value).expect("an input of the bench");
    }
    settings
}

/// A column of a run of the pumped loop.
pub(crate) fn column<'a>(run: &'a Run, id: &str) -> &'a [f64] {
    let place = PumpedLoop.states().iter().position(|state| state.id == id);
    &run.columns[place.expect("a state of the bench")]
}

/// The limit of a state of a run.
pub(crate) fn limit(run: &Run, id: &str) -> f64 {
    run.limits.iter().find(|limit| limit.state == id).expect("a state with a limit").value
}

#[test]
fn every_bench_runs_with_its_own_values() {
    for bench in bench::all() {
        let settings = Settings::defaults(*bench);
        let run = bench.run(&settings, &[0.0, 1.0]).unwrap_or_else(|error| panic!("{}: {error}", bench.id()));
        assert_eq!(run.columns.len(), bench.states().len());
        assert!(run.columns.iter().all(|column| column.len() == 2));
        for input in bench.inputs() {
            assert!((input.valid.0..=input.valid.1).contains(&input.default), "{} of {}", input.name, bench.id());
        }
        for limit in &run.limits {
            assert!(bench.states().iter().any(|state| state.id == limit.state), "{} of {}", limit.state, bench.id());
        }
        assert_eq!(bench::find(bench.id()).map(Bench::id), Some(bench.id()));
    }
    assert!(bench::find("no-such-bench").is_none());
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

/// Vessel and limits stay below 95 °C, but hot water from the start gets hotter yet on its way along the plate.
#[test]
fn a_hot_outlet_is_refused() {
    let changes = [
        ("room_temperature", 39.5),
        ("start_excess", 55.0),
        ("lamp_power", 190.0),
        ("vessel_loss", 0.2),
        ("flow", 1.0),
        ("pump_heat_share", 0.0),
    ];
    let first = PumpedLoop.run(&settings(&changes), &[0.0]).expect("the vessel starts at 94.5 °C and cools");
    assert!(first.limits.iter().all(|limit| limit.value < 95.0), "{:?}", first.limits);
    let error = PumpedLoop.run(&settings(&changes), &[0.0, 30.0]).expect_err("the outlet is hotter");
    assert!(matches!(error, BenchError::TooHot { limit, .. } if limit > 95.0 && limit < 99.0), "{error}");
}

#[test]
fn settings_outside_the_model_are_refused() {
    let error = PumpedLoop.run(&settings(&[("plate_area", 2.0)]), &[0.0]).expect_err("two square metres are no bench");
    assert_eq!(error.to_string(), "`plate_area` is 2 m2, but the model holds from 0.02 to 0.05 m2");
    for value in [f64::NAN, f64::INFINITY, -1.0] {
        let error = PumpedLoop.run(&settings(&[("flow", value)]), &[0.0]).expect_err("no flow");
        assert!(matches!(error, BenchError::OutOfRange { name: "flow", .. }), "{error}");
    }
    // 500 cm² in m² may be off by a rounding.
    PumpedLoop.run(&settings(&[("plate_area", 0.05 * (1.0 + f64::EPSILON))]), &[0.0]).expect("the end of the range");
}

#[test]
fn a_misspelt_input_is_named_with_its_nearest() {
    let mut settings = Settings::defaults(&PumpedLoop);
    let error = settings.set("plate_aera", 0.04).expect_err("a misspelt name");
    assert_eq!(error.to_string(), "the bench has no input `plate_aera`");
    assert!(matches!(error, BenchError::UnknownInput { near: Some(near), .. } if near == "plate_area"));
}

#[test]
fn times_out_of_order_are_refused() {
    let settings = Settings::defaults(&PumpedLoop);
    for times in [&[0.0, 60.0, 30.0][..], &[-1.0, 0.0], &[0.0, 0.0], &[0.0, f64::NAN], &[f64::INFINITY]] {
        let error = PumpedLoop.run(&settings, times).expect_err("no order");
        assert!(matches!(error, BenchError::Order { .. }), "{times:?}: {error}");
    }
    assert!(PumpedLoop.run(&settings, &[]).expect("nothing to read").columns.iter().all(Vec::is_empty));
}

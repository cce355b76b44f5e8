//! The absorber plates against an independent integration, and what must hold on them wherever the model holds.

use labquire::bench::{Bench, BenchError, Plates, Run, Settings};
use proptest::{prelude::*, sample::select};

use crate::reference::{assert_near, number, rows};

type Changes = Vec<(&'static str, f64)>;

fn settings(changes: &[(&str, f64)]) -> Settings {
    let mut settings = Settings::defaults(&Plates);
    for (name, value) in changes {
        settings.set(name, *value).expect("an input of the bench");
    }
    settings
}

fn column<'a>(run: &'a Run, id: &str) -> &'a [f64] {
    let place = Plates.states().iter().position(|state| state.id == id);
    &run.columns[place.expect("a state of the bench")]
}

fn limits(run: &Run) -> (f64, f64) {
    (run.limits[0].value, run.limits[1].value)
}

fn with(base: &[(&'static str, f64)], changes: &[(&'static str, f64)]) -> Changes {
    base.iter().chain(changes).copied().collect()
}

/// Source: scipy `solve_ivp` (DOP853 at rtol 1e-12, confirmed by Radau) and `brentq` on the documented equations,
/// tests/reference/plates.py.
#[test]
fn states_agree_with_an_independent_integration() {
    for row in rows("plates.csv") {
        let changes: Vec<(&str, f64)> = row[1]
            .split(';')
            .map(|part| part.split_once('=').map(|(name, value)| (name, number(value))).expect("name=value"))
            .collect();
        assert_eq!(changes.len(), Plates.inputs().len());
        if row[0] == "0" {
            assert_eq!(settings(&changes), Settings::defaults(&Plates));
        }
        let cell = |place: usize| number(&row[place]);
        let run = Plates.run(&settings(&changes), &[0.0, cell(2)]).expect("settings in range");
        for (place, state) in [
            (3, "first_plate_temperature"),
            (4, "second_plate_temperature"),
            (5, "first_probe_temperature"),
            (6, "second_probe_temperature"),
        ] {
            assert_near(column(&run, state)[1], cell(place), 1e-8, state);
        }
        let energy = run.energy.expect("heat flows");
        assert_near(energy.supplied, cell(7), 1e-8, "supplied");
        assert_near(energy.lost, cell(8), 1e-8, "lost");
        assert_near(limits(&run).0, cell(9), 1e-9, "limit of the first");
        assert_near(limits(&run).1, cell(10), 1e-9, "limit of the second");
    }
}

#[test]
fn a_plate_too_hot_for_its_paint_is_refused_with_the_number() {
    let hot = settings(&[("lamp_power", 500.0), ("lamp_distance", 0.25)]);
    match Plates.run(&hot, &[0.0]) {
        Err(error @ BenchError::Overheated { reached, .. }) => {
            assert!(reached > 150.0);
            assert!(error.to_string().contains(&format!("{reached:.1} °C")), "{error}");
        }
        other => panic!("{other:?}"),
    }
}

/// Times out of order are refused wherever the lamp is switched off between them.
#[test]
fn times_out_of_order_are_refused() {
    for at in [&[30.0, 10.0][..], &[0.0, 40.0, 30.0], &[0.0, 10.0, f64::NAN]] {
        let error = Plates.run(&settings(&[("lamp_off", 20.0)]), at).expect_err("no order");
        assert!(matches!(error, BenchError::Order { .. }), "{at:?}: {error}");
    }
}

#[test]
fn a_lagging_probe_is_behind_by_its_lag() {
    let lag = 10.0;
    let run = Plates.run(&settings(&[("probe_lag", lag), ("plate_capacity", 150.0)]), &[0.0, 99.0, 100.0, 101.0]);
    let run = run.expect("in range");
    let (plate, probe) = (column(&run, "first_plate_temperature"), column(&run, "first_probe_temperature"));
    // Behind a rise that hardly bends, a first-order probe is late by its time constant.
    let slope = (plate[3] - plate[1]) / 2.0;
    assert!(((plate[2] - probe[2]) / (lag * slope) - 1.0).abs() < 0.05, "{plate:?} {probe:?}");
    let sharp = Plates.run(&settings(&[]), &[100.0]).expect("in range");
    assert_near(
        column(&sharp, "first_probe_temperature")[0],
        column(&sharp, "first_plate_temperature")[0],
        0.0,
        "no lag",
    );
}

/// Every input over its whole range, some at an end of it; what the bench refuses is drawn again.
fn any() -> impl Strategy<Value = Changes> {
    let share = prop_oneof![8 => 0.0..=1.0f64, 1 => select(vec![0.0, 1.0])];
    let drawn = (prop::collection::vec(share, Plates.inputs().len()), 0.0..3000.0f64);
    drawn.prop_filter_map("refused by the bench", |(shares, off)| {
        let inputs = Plates.inputs().iter().zip(shares);
        let of = |(name, low, high, share): (&'static str, f64, f64, f64)| (name, low + share * (high - low));
        let drawn: Changes =
            inputs.map(|(input, share)| of((input.name, input.valid.0, input.valid.1, share))).collect();
        let drawn = with(&drawn, &[("lamp_off", off)]);
        Plates.run(&settings(&drawn), &[]).is_ok().then_some(drawn)
    })
}

/// As [`any`], from the temperature of the room under a lamp that is bright at once and stays on.
fn warming() -> impl Strategy<Value = Changes> {
    let still = [("start_excess", 0.0), ("lamp_off", 36_000.0), ("lamp_warm_up", 0.0)];
    any().prop_map(move |drawn| with(&drawn, &still))
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 64, max_local_rejects: 1_000_000, ..ProptestConfig::default() })]

    #[test]
    fn the_ledger_closes(changes in any(), end in 1.0..7200.0f64) {
        let energy = Plates.run(&settings(&changes), &[0.0, end]).expect("in range").energy.expect("heat flows");
        let scale = energy.supplied.max(energy.lost.abs()).max(energy.stored.abs());
        prop_assert!(energy.residual().abs() <= 1e-6 * scale, "{energy:?}");
    }

    #[test]
    fn the_first_slope_is_absorbed_power_over_capacity(changes in warming()) {
        let of = |name| settings(&changes).get(name);
        let run = Plates.run(&settings(&changes), &[0.0, 0.05]).expect("in range");
        let light = column(&run, "irradiance")[0];
        for (state, absorptance, share) in [
            ("first_plate_temperature", "first_absorptance", 1.0),
            ("second_plate_temperature", "second_absorptance", of("second_light")),
        ] {
            let wanted = of(absorptance) * share * light * of("plate_area") / of("plate_capacity");
            let found = (column(&run, state)[1] - column(&run, state)[0]) / 0.05;
            prop_assert!((found / wanted - 1.0).abs() < 2e-3, "{found} against {wanted}");
        }
    }

    #[test]
    fn the_ratio_of_first_slopes_ignores_convection(changes in warming(), convection in 2.0..12.0f64) {
        let ratio = |changes: &Changes| {
            let run = Plates.run(&settings(changes), &[0.0, 0.05]).ok()?;
            let rise = |state| column(&run, state)[1] - column(&run, state)[0];
            Some(rise("first_plate_temperature") / rise("second_plate_temperature"))
        };
        let one = ratio(&changes).expect("in range");
        if let Some(other) = ratio(&with(&changes, &[("convection", convection)])) {
            prop_assert!((one / other - 1.0).abs() < 2e-3, "{one} and {other}");
        }
    }

    /// Selective, black, white, none: finishes of handbooks, whatever the lamp and the air do.
    #[test]
    fn limits_rank_selective_black_white(changes in warming()) {
        let even = ("second_light", 1.0);
        let finish = |a, e| [even, ("first_absorptance", a), ("first_emittance", e)];
        let white = [("second_absorptance", 0.20), ("second_emittance", 0.90)];
        let of = |a, e| Plates.run(&settings(&with(&with(&changes, &finish(a, e)), &white)), &[]);
        let (Ok(selective), Ok(black)) = (of(0.95, 0.11), of(0.95, 0.92)) else { return Ok(()) };
        let room = settings(&changes).get("room_temperature");
        prop_assert!(limits(&selective).0 > limits(&black).0);
        prop_assert!(limits(&black).0 > limits(&black).1);
        prop_assert!(limits(&black).1 > room);
    }

    /// In the dark only the emittance tells finishes apart: black and white cool alike, polished metal lags behind.
    #[test]
    fn black_and_white_cool_alike(changes in any(), excess in 20.0..60.0f64) {
        // A weak lamp, so that no finish is refused for the light it would get if the lamp were on.
        let weak = [("lamp_off", 0.0), ("lamp_power", 20.0), ("lamp_distance", 1.0)];
        let dark = with(&weak, &[("start_excess", excess), ("first_emittance", 0.92)]);
        let of = |emittance| {
            let changes = with(&with(&changes, &dark), &[("second_emittance", emittance)]);
            let run = Plates.run(&settings(&changes), &[0.0, 120.0]).expect("in range");
            (column(&run, "first_plate_temperature")[1], column(&run, "second_plate_temperature")[1])
        };
        let room = settings(&changes).get("room_temperature");
        let ((black, white), (_, foil)) = (of(0.90), of(0.04));
        prop_assert!(white >= black && white - black < 0.02 * excess, "{black} {white}");
        prop_assert!(foil > white && black > room, "{white} {foil}");
    }

    #[test]
    fn warming_never_passes_the_limit_and_gets_slower(changes in warming()) {
        let at: Vec<f64> = (0..61).map(|row| f64::from(row) * 30.0).collect();
        let run = Plates.run(&settings(&changes), &at).expect("in range");
        let (first, second) = limits(&run);
        for (state, limit) in [("first_plate_temperature", first), ("second_plate_temperature", second)] {
            let curve = column(&run, state);
            prop_assert!(curve.iter().all(|&t| t <= limit + 1e-6), "{curve:?} towards {limit}");
            let steps: Vec<f64> = curve.windows(2).map(|pair| pair[1] - pair[0]).collect();
            prop_assert!(steps.windows(2).all(|pair| pair[1] <= pair[0] + 1e-7), "{steps:?}");
        }
    }

    #[test]
    fn half_the_light_does_not_halve_the_rise_of_the_limit(changes in warming()) {
        let power = settings(&changes).get("lamp_power");
        prop_assume!(power >= 40.0);
        let run = |power| limits(&Plates.run(&settings(&with(&changes, &[("lamp_power", power)])), &[]).expect("cooler")).0;
        let room = settings(&changes).get("room_temperature");
        // The loss grows faster than the excess, by T⁴ and by free convection.
        prop_assert!(run(power / 2.0) - room > (run(power) - room) / 2.0);
    }

    /// What is left after ten hours is at most what a loss by radiation and through the back alone would leave.
    #[test]
    fn a_long_run_ends_at_the_limit(changes in warming()) {
        let run = Plates.run(&settings(&changes), &[36_000.0]).expect("in range");
        let (first, second) = limits(&run);
        let of = |name| settings(&changes).get(name);
        for (state, limit, emittance) in [
            ("first_plate_temperature", first, of("first_emittance")),
            ("second_plate_temperature", second, of("second_emittance")),
        ] {
            let radiated = 4.0 * emittance * 5.670_374_419e-8 * (of("room_temperature") + 273.15).powi(3);
            let least = of("plate_area") * (of("back_loss") + radiated) / of("plate_capacity");
            let left = (limit - of("room_temperature")) * (-36_000.0 * least).exp();
            let missing = limit - column(&run, state)[0];
            prop_assert!((-1e-5..=left + 1e-5).contains(&missing), "{missing} missing, at most {left} expected");
        }
    }
}

//! The trough: geometry and textbook cases, an independent integration, and what must hold everywhere.

use labquire::bench::{Bench, BenchError, Collector, Mirror, Trough, TroughAgainstPlate, TroughFocus, Tube, parabola};
use proptest::prelude::*;

use crate::{
    reference::{assert_near, number, rows},
    runs::{any, changed, changes, column, pick, run, value},
};

/// Source: closed form `1 / sin θ`, `1 / sin² θ`; 4.65 mrad gives 215.05 and 46 248, 0.27° gives 212.21 and 45 032 (in print
/// as 215, 46 200, 212, 45 000: Rabl 1976; Duffie and Beckman, section 7.2, from memory).
#[test]
fn the_sun_limits_concentration() {
    assert_near(parabola::line_limit(0.004_65), 215.054_538_4, 1e-9, "line");
    assert_near(parabola::point_limit(0.004_65), 46_248.454_5, 1e-9, "point");
    assert_near(parabola::line_limit(0.27_f64.to_radians()), 212.207_376_2, 1e-9, "line at 0.27°");
    assert_near(parabola::point_limit(0.27_f64.to_radians()), 45_031.970_51, 1e-9, "point at 0.27°");
}

/// Source: geometry of a plant's trough, 5.77 m aperture, 1.71 m focus, 70 mm tube (figures from memory): rim angle
/// 80.29976538°, rim radius 2.92684576 m, depth 1.21684576 m, concentration 26.23782919 by areas, 82.42857143 by widths.
#[test]
fn a_plant_trough_has_its_known_shape() {
    assert_near(parabola::rim_angle(5.77, 1.71).to_degrees(), 80.299_765_38, 1e-9, "rim angle");
    assert_near(parabola::rim_radius(5.77, 1.71), 2.926_845_76, 1e-9, "rim radius");
    assert_near(parabola::depth(5.77, 1.71), 1.216_845_76, 1e-9, "depth");
    assert_near(parabola::area_concentration(5.77, 0.07), 26.237_829_19, 1e-9, "areas");
    assert_near(parabola::width_concentration(5.77, 0.07), 82.428_571_43, 1e-9, "widths");
}

/// Source: `y = x² / (4f)`: 0.30 m aperture, 75 mm depth: focus 75 mm, rim angle 90°.
#[test]
fn a_bench_trough_has_its_focus_between_its_rims() {
    assert_near(parabola::focal_length(0.3, 0.075), 0.075, 1e-12, "focal length");
    assert_near(parabola::rim_angle(0.3, 0.075).to_degrees(), 90.0, 1e-12, "rim angle");
}

/// Source: Rai, Non-conventional Energy Sources, example 3.9.1 (kcal, h, m), solved again in closed form: 2 m by 8 m, tube
/// 60 mm in glass of 90 mm, ρ 0.85, γ 0.94, τα 0.77, 600 kcal/(m² h), 400 kg/h at 0.3 kcal/(kg K), U_o 5.2, U_L 6, 150 °C
/// in, 25 °C outside: S 369.138, F_R 0.838957275, Q 3783.240318 kcal/h, outlet 181.5270026 °C, η 0.3940875331.
#[test]
fn a_textbook_trough_gives_its_known_heat() {
    let (width, length, glass, tube) = (2.0, 8.0, 0.09, 0.06);
    let (loss, factor, rate) = (6.0, 5.2 / 6.0, 400.0 * 0.3);
    let source = 600.0 * 0.85 * 0.94 * 0.77;
    assert_near(source, 369.138, 1e-12, "S");
    let area = std::f64::consts::PI * tube * length;
    let transfer = area * loss * factor / (1.0 - factor);
    let surface = Collector { area, optical_efficiency: 1.0, loss_linear: loss, loss_quadratic: 0.0, transfer };
    let removal = surface.heat_removal_factor(rate, 0.0);
    assert_near(removal, 0.838_957_275, 1e-9, "F_R");
    let absorbed = source * (width - glass) * length;
    let useful = removal * (absorbed - surface.loss(125.0));
    assert_near(useful, 3_783.240_318, 1e-9, "useful heat");
    assert_near(150.0 + useful / rate, 181.527_002_6, 1e-9, "outlet");
    assert_near(useful / (600.0 * width * length), 0.394_087_533_1, 1e-9, "efficiency");
    // What the benches do: passage per kelvin between the tube's mean temperature and the water that enters.
    let coupling = surface.coupling(rate, 0.0);
    let excess = (absorbed + coupling * 125.0) / (area * loss + coupling);
    assert_near(coupling * (excess - 125.0), useful, 1e-12, "useful heat by the coupling");
}

/// Source: `P / (m c)` with 26 W on 40 mL of water, 4.18 J/(g K): 9.3 K/min (no loss at the start).
#[test]
fn a_filled_tube_warms_by_nine_kelvins_a_minute() {
    let mut changes = vec![("water_mass", 40.0), ("tube_capacity", 5.0), ("tube_transfer", 20.0), ("probe_lag", 0.0)];
    let at_once = column(&Trough, &changes, &[0.0], "absorbed_power")[0];
    changes.push(("irradiance", 550.0 * 26.0 / at_once));
    let water = column(&Trough, &changes, &[20.0, 40.0], "water_temperature");
    let per_minute = 3.0 * (water[1] - water[0]);
    assert!((8.5..9.4).contains(&per_minute), "{per_minute}");
}

/// Source: law of reflection, traced with vectors: a ray off by δ passes the middle of the tube at `s x/r ± r δ`.
#[test]
fn a_traced_ray_passes_the_tube_as_the_formula_says() {
    let focal: f64 = 0.07;
    for (aside, offset, off) in [(0.1_f64, 0.0, 0.0_f64), (0.03, 0.0, 0.01), (0.12, 0.01, 0.0), (0.14, -0.008, 0.004)] {
        let place = (aside, aside * aside / (4.0 * focal));
        let beam = (off.sin(), -off.cos());
        let slope = aside / (2.0 * focal);
        let size = slope.hypot(1.0);
        let normal = (-slope / size, 1.0 / size);
        let dot = beam.0 * normal.0 + beam.1 * normal.1;
        let out = (beam.0 - 2.0 * dot * normal.0, beam.1 - 2.0 * dot * normal.1);
        let to_tube = (-place.0, focal + offset - place.1);
        let missed = out.0 * to_tube.1 - out.1 * to_tube.0;
        let distance = parabola::mirror_distance(focal, aside);
        assert_near(to_tube.0.hypot(focal - place.1), distance, 1e-12, "distance of the focus");
        let formula = [1.0, -1.0].map(|sign| (offset * aside / distance + sign * distance * off).abs());
        let nearest = formula.into_iter().map(|formula| (formula - missed.abs()).abs()).fold(f64::INFINITY, f64::min);
        assert!(
            nearest < 1e-3 * distance * off.abs() + 0.02 * (offset * off).abs() + 1e-12,
            "{missed} and {formula:?}"
        );
    }
}

/// Source: tests/reference/trough.py, numpy roots, scipy `quad`, `solve_ivp` and `brentq`.
#[test]
fn states_agree_with_an_independent_integration() {
    let near = |bench: &dyn Bench, row: &[String], place: usize, state: &str| {
        let found = column(bench, &changes(&row[1]), &[number(&row[2])], state)[0];
        assert_near(found, number(&row[place]), 1e-6, state);
    };
    for row in rows("trough.csv") {
        for (place, state) in
            [(3, "absorbed_power"), (4, "tube_temperature"), (5, "water_temperature"), (6, "probe_temperature")]
        {
            near(&Trough, &row, place, state);
        }
        let run = run(&Trough, &changes(&row[1]), &[number(&row[2])]).expect("in range");
        let energy = run.energy.expect("heat flows");
        assert_near(energy.supplied, number(&row[7]), 1e-6, "supplied");
        assert_near(energy.lost, number(&row[8]), 1e-6, "lost");
        assert_near(run.limits[0].value, number(&row[9]), 1e-6, "limit of the tube");
    }
    for row in rows("trough_focus.csv") {
        for (place, state) in [(3, "absorbed_power"), (4, "water_temperature"), (5, "end_temperature")] {
            near(&TroughFocus, &row, place, state);
        }
    }
    for row in rows("trough_against_plate.csv") {
        let states = ["trough_useful_power", "plate_useful_power", "trough_efficiency", "plate_efficiency"];
        (3..).zip(states).for_each(|(place, state)| near(&TroughAgainstPlate, &row, place, state));
    }
}

#[test]
fn boiling_is_refused_with_the_number() {
    match run(&Trough, &[("irradiance", 1000.0)], &[600.0]) {
        Err(BenchError::TooHot { limit, .. }) => assert!(limit > 95.0),
        other => panic!("{other:?}"),
    }
    match run(&TroughFocus, &[("irradiance", 1000.0), ("duration", 600.0)], &[70.0]) {
        Err(BenchError::TooHot { limit, .. }) => assert!(limit > 95.0),
        other => panic!("{other:?}"),
    }
    match run(&TroughAgainstPlate, &[], &[70.0, 74.0]) {
        Err(BenchError::TooHot { limit, .. }) => assert!(limit > 95.0),
        other => panic!("{other:?}"),
    }
    let error = run(&TroughFocus, &[], &[400.0]).expect_err("above the frame");
    assert_eq!(error.to_string(), "`tube_height` is 400 mm, but the model holds from 0 to 300 mm");
}

/// As they are, the bench's lines cross: the plate is better cold, the trough hot.
#[test]
fn the_lines_of_trough_and_plate_cross() {
    let dull = [("reflectance", 0.78)];
    let at = [0.0, 50.0];
    let (trough, plate) = (
        column(&TroughAgainstPlate, &dull, &at, "trough_efficiency"),
        column(&TroughAgainstPlate, &dull, &at, "plate_efficiency"),
    );
    assert!(trough[0] < plate[0] && trough[1] > plate[1], "{trough:?} and {plate:?}");
}

fn mirror() -> impl Strategy<Value = (Mirror, Tube)> {
    (0.15..0.6f64, 0.03..0.3f64, 0.004..0.06f64, 0.006..0.03f64).prop_map(|(aperture, depth, spread, diameter)| {
        let focal = parabola::focal_length(aperture, depth);
        let mirror = Mirror { aperture, length: 0.25, focal, reflectance: 0.85, spread };
        let tube = Tube { diameter, absorptance: 0.9, direct_share: 0.0, incidence_coefficient: 0.1, offset: 0.0 };
        (mirror, tube)
    })
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 48, ..ProptestConfig::default() })]

    #[test]
    fn nothing_hits_beyond_the_acceptance_angle((mirror, tube) in mirror(), beyond in 1.0001..3.0f64) {
        prop_assert!(mirror.intercept(&tube, beyond * mirror.acceptance(tube.diameter)).abs() < 1e-15);
        prop_assert!(mirror.absorbed(&tube, 800.0, beyond * mirror.acceptance(tube.diameter), 0.0).abs() < 1e-12);
        let within = mirror.intercept(&tube, 0.0);
        prop_assert!(within > 0.0 && within <= 1.0 - tube.diameter / mirror.aperture + 1e-9);
    }

    #[test]
    fn missing_the_sun_only_costs((mirror, tube) in mirror(), aim in 0.0..0.2f64, more in 0.001..0.1f64, away in -0.05..0.05f64) {
        let share = |aim: f64, offset: f64| mirror.intercept(&Tube { offset, ..tube }, aim);
        prop_assert!(share(aim + more, 0.0) <= share(aim, 0.0) + 1e-9);
        prop_assert!(share(0.0, away) <= share(0.0, 0.0) + 1e-9);
        prop_assert!((share(aim, away) - share(-aim, away)).abs() < 1e-9);
    }

    #[test]
    fn light_along_the_trough_only_costs((mirror, tube) in mirror(), along in 0.0..1.3f64, more in 0.001..0.1f64) {
        let power = |along| mirror.absorbed(&tube, 800.0, 0.0, along);
        prop_assert!(power(along + more) <= power(along));
        prop_assert!(power(along) <= power(0.0) * along.cos() + 1e-12);
    }

    #[test]
    fn ledgers_close(heating in any(&Trough), focus in any(&TroughFocus), against in any(&TroughAgainstPlate), time in 1.0..600.0f64) {
        let runs = [
            run(&Trough, &heating, &[0.0, time]),
            run(&TroughFocus, &focus, &[20.0, 80.0]),
            run(&TroughAgainstPlate, &against, &[0.0, 30.0]),
        ];
        for run in runs.into_iter().flatten() {
            let energy = run.energy.expect("heat flows");
            let scale = energy.supplied.max(energy.lost.abs()).max(energy.stored.abs());
            prop_assert!(energy.residual().abs() <= 1e-6 * scale, "{energy:?}");
        }
    }

    #[test]
    fn warming_never_passes_the_limit(changes in any(&Trough)) {
        let changes = changed(&changes, ("start_excess", 0.0));
        let at: Vec<f64> = (0..20).map(|row| f64::from(row) * 30.0).collect();
        let Ok(run) = run(&Trough, &changes, &at) else { return Ok(()) };
        for limit in &run.limits {
            let column = pick(&Trough, &run, limit.state);
            prop_assert!(column.iter().all(|&t| t <= limit.value + 1e-6), "{}: {column:?} towards {}", limit.state, limit.value);
        }
        let efficiency = pick(&Trough, &run, "efficiency");
        prop_assert!(efficiency.windows(2).all(|pair| pair[1] <= pair[0] + 1e-9));
        prop_assert!(efficiency[0] < 1.0);
    }

    /// Over (T − T_a)/G the lines fall by U_1/C and by U_1, with T of tube and plate.
    #[test]
    fn efficiency_lines_have_their_slopes(changes in any(&TroughAgainstPlate), warmer in 5.0..40.0f64) {
        let changes = changed(&changed(&changes, ("tube_loss_quadratic", 0.0)), ("plate_loss_quadratic", 0.0));
        let Ok(run) = run(&TroughAgainstPlate, &changes, &[0.0, warmer]) else { return Ok(()) };
        let of = |name| value(&TroughAgainstPlate, &changes, name);
        let slope = |efficiency: &str, temperature: &str| {
            let (eta, t) = (pick(&TroughAgainstPlate, &run, efficiency), pick(&TroughAgainstPlate, &run, temperature));
            (eta[0] - eta[1]) / (t[1] - t[0]) * of("irradiance")
        };
        let concentration = parabola::area_concentration(of("aperture"), of("tube_diameter") / 1000.0);
        let (trough, plate) = (slope("trough_efficiency", "tube_temperature"), slope("plate_efficiency", "plate_temperature"));
        prop_assert!((trough / (of("tube_loss") / concentration) - 1.0).abs() < 1e-6, "{trough}");
        prop_assert!((plate / of("plate_loss") - 1.0).abs() < 1e-6, "{plate}");
        // Glazed to glazed and bare to bare, a concentration of 4 or more makes the trough's line the flatter one.
        if concentration >= 4.0 && of("tube_loss") <= 2.0 * of("plate_loss") {
            prop_assert!(trough < plate);
        }
    }
}

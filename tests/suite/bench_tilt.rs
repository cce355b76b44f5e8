//! The collector turned before a lamp: standard forms, an independent calculation, and what must hold everywhere.

use std::f64::consts::{FRAC_PI_2, FRAC_PI_3};

use labquire::bench::{BenchError, TiltedCollector, incidence};
use proptest::prelude::*;

use crate::{
    reference::{assert_near, number, rows},
    runs::{any, changed, changes, column, pick, run, value},
};

/// Source: `K = 1 − b_0 (1/cos θ − 1)` with b_0 0.1, as pvlib 0.16.1 `iam.ashrae` gives it: 1, 0.9585786438, 0.9 at 0°,
/// 45°, 60°.
#[test]
fn glass_takes_the_standard_share_at_a_slant() {
    for (angle, wanted) in [(0.0_f64, 1.0), (45.0, 0.958_578_643_8), (60.0, 0.9)] {
        assert_near(incidence::modifier(0.1, angle.to_radians()), wanted, 1e-10, "modifier");
        let on_bench = column(&TiltedCollector, &[("incidence_coefficient", 0.1)], &[angle], "modifier")[0];
        assert_near(on_bench, wanted, 1e-10, "modifier on the bench");
    }
    assert_near(incidence::modifier(0.1, FRAC_PI_2), 0.0, 1e-15, "grazing light");
}

/// Source: cosine law, pvlib 0.16.1 `irradiance.aoi`: 900 W/m² of beam on tilt 0°, 30°, 60°, 45° at zenith 60°, 60°, 60°,
/// 30°: 450, 779.4228634, 900, 869.3332437 W/m².
#[test]
fn a_tilted_plate_takes_the_cosine_of_the_incidence() {
    for (tilt, zenith, wanted) in
        [(0.0_f64, 60.0_f64, 450.0), (30.0, 60.0, 779.422_863_4), (60.0, 60.0, 900.0), (45.0, 30.0, 869.333_243_7)]
    {
        assert_near(900.0 * incidence::cosine(tilt.to_radians(), zenith.to_radians(), 0.0), wanted, 1e-9, "beam");
        // On the bench the plate is turned out of the beam by the difference of the two.
        let narrow = [("beam_half_width", 0.0)];
        let at = (zenith - tilt).abs();
        let light = column(&TiltedCollector, &narrow, &[at], "irradiance")[0];
        let square = column(&TiltedCollector, &narrow, &[at], "square_irradiance")[0];
        assert_near(900.0 * light / square, wanted, 1e-9, "on the bench");
    }
    assert_near(incidence::cosine(1.0, 1.0, std::f64::consts::PI), 2.0_f64.cos().max(0.0), 1e-12, "from behind");
}

/// Source: tests/reference/tilt.py, fan averaged by scipy quad, stream followed by `solve_ivp`, plate by `brentq`.
#[test]
fn states_agree_with_an_independent_integration() {
    for row in rows("tilt.csv") {
        let changes = changes(&row[1]);
        let states = ["irradiance", "absorbed_power", "plate_temperature", "outlet_temperature", "useful_power"];
        for (place, state) in (3..).zip(states) {
            let found = column(&TiltedCollector, &changes, &[number(&row[2])], state)[0];
            let wanted = number(&row[place]);
            assert!((found - wanted).abs() <= 1e-6 * wanted.abs().max(1e-3), "{state}: {found}, not {wanted}: {row:?}");
        }
    }
}

#[test]
fn what_leaves_the_model_is_refused_with_the_number() {
    let error = run(&TiltedCollector, &[], &[0.0, 95.0]).expect_err("from behind");
    assert_eq!(error.to_string(), "`angle` is 95 °, but the model holds from 0 to 90 °");
    let hot = [("lamp_distance", 0.2), ("flow", 0.5), ("inlet_excess", 50.0), ("room_temperature", 40.0)];
    match run(&TiltedCollector, &hot, &[0.0]) {
        Err(BenchError::TooHot { limit, .. }) => assert!(limit > 95.0),
        other => panic!("{other:?}"),
    }
    assert!(matches!(run(&TiltedCollector, &[], &[60.0, 0.0]), Err(BenchError::Order { .. })));
}

proptest! {
    #[test]
    fn the_ledger_closes(changes in any(&TiltedCollector), angle in 0.0..90.0f64) {
        let Ok(run) = run(&TiltedCollector, &changes, &[angle]) else { return Ok(()) };
        let energy = run.energy.expect("heat flows");
        let scale = energy.supplied.max(energy.lost.abs()).max(energy.stored.abs());
        prop_assert!(energy.residual().abs() <= 1e-6 * scale, "{energy:?}");
    }

    /// G(60°) is half while no ray grazes the plate, and a wide beam never falls below the cosine.
    #[test]
    fn the_cosine_rules_until_rays_graze(changes in any(&TiltedCollector), angle in 0.0..90.0f64) {
        let Ok(run) = run(&TiltedCollector, &changes, &[FRAC_PI_3.to_degrees()]) else { return Ok(()) };
        let share = |run: &labquire::bench::Run| {
            pick(&TiltedCollector, run, "irradiance")[0] / pick(&TiltedCollector, run, "square_irradiance")[0]
        };
        prop_assert!((share(&run) - 0.5).abs() < 1e-12);
        let Ok(run) = crate::runs::run(&TiltedCollector, &changes, &[angle]) else { return Ok(()) };
        prop_assert!(share(&run) >= angle.to_radians().cos() - 1e-12);
    }

    #[test]
    fn glass_stays_below_the_cosine(changes in any(&TiltedCollector), angle in 1.0..89.0f64, glass in 0.01..0.2f64) {
        let of = |coefficient, angle| {
            let changes = changed(&changes, ("incidence_coefficient", coefficient));
            let changes = changed(&changes, ("beam_half_width", 0.0));
            run(&TiltedCollector, &changes, &[angle]).map(|run| pick(&TiltedCollector, &run, "absorbed_power")[0])
        };
        let (Ok(square), Ok(slant), Ok(bare)) = (of(glass, 0.0), of(glass, angle), of(0.0, angle)) else { return Ok(()) };
        prop_assert!(slant < square * angle.to_radians().cos());
        prop_assert!((bare - square * angle.to_radians().cos()).abs() < 1e-9 * square);
    }

    /// Turning the plate away lowers the useful heat, and leaves it below the absorbed light while the plate is warm.
    #[test]
    fn useful_power_falls_with_the_angle(changes in any(&TiltedCollector)) {
        let at: Vec<f64> = (0..=18).map(|step| f64::from(step) * 5.0).collect();
        let Ok(run) = run(&TiltedCollector, &changes, &at) else { return Ok(()) };
        let useful = pick(&TiltedCollector, &run, "useful_power");
        prop_assert!(useful.windows(2).all(|pair| pair[1] <= pair[0] + 1e-9), "{useful:?}");
        if value(&TiltedCollector, &changes, "inlet_excess") >= 0.0 {
            let absorbed = pick(&TiltedCollector, &run, "absorbed_power");
            prop_assert!(useful.iter().zip(absorbed).all(|(useful, absorbed)| useful <= &(absorbed + 1e-9)));
        }
    }
}

//! The lamp before a light meter: textbook cases, an independent calculation, and what must hold everywhere.

use labquire::bench::{BenchError, LampLight, light_law};
use proptest::prelude::*;

use crate::{
    reference::{assert_near, number, rows},
    runs::{any, changed, changes, column, run, value},
};

/// A lamp without offset, disc and stray light.
const POINT: [(&str, f64); 3] = [("lamp_source_offset", 0.0), ("lamp_radius", 0.0), ("stray_irradiance", 0.0)];

/// Source: Gupta and Manglik, Utilization of Electrical Energy, example 4.7: 1250 cd at 2.7 m, 3 m aside: 171.47 lx and
/// 51.33 lx; solved again in closed form.
#[test]
fn a_lamp_above_a_floor_lights_it_less_aside() {
    assert_near(light_law::point_source(1250.0, 2.7, 0.0), 171.467_764_1, 1e-9, "below");
    assert_near(light_law::point_source(1250.0, 2.7, 3.0), 51.332_468_66, 1e-9, "aside");
}

/// Source: Theraja, example 49.2: 10 m high, a tenth of the illuminance: 19.08 m; solved again in closed form.
#[test]
fn a_tenth_of_the_light_lies_far_aside() {
    assert_near(light_law::aside_of(10.0, 0.1), 19.082_947_45, 1e-9, "aside");
    assert_near(light_law::cosine_cubed(10.0, 19.082_947_45), 0.1, 1e-8, "share");
}

/// Source: Lambertian disc on its axis, `scipy` quad over the disc: 0.8, 0.9615384615, 0.9900990099 of a point source for
/// R/d of 0.5, 0.2, 0.1.
#[test]
fn a_disc_is_weaker_than_a_point_close_by() {
    for (share, wanted) in [(0.5, 0.8), (0.2, 0.961_538_461_5), (0.1, 0.990_099_009_9)] {
        assert_near(light_law::disc_share(share, 1.0), wanted, 1e-9, "disc");
    }
}

/// Source: inverse square law from 900 W/m² at 0.30 m: 2025, 900, 506.25, 225 W/m² at 0.2, 0.3, 0.4, 0.6 m; slope −2.
#[test]
fn the_bench_obeys_the_inverse_square_law_of_a_point() {
    let at = [0.2, 0.3, 0.4, 0.6];
    let one = column(&LampLight, &POINT, &[0.3], "irradiance")[0];
    let changes = [&POINT[..], &[("lamp_power", 120.0 * 900.0 / one)]].concat();
    let found = column(&LampLight, &changes, &at, "irradiance");
    for (found, wanted) in found.iter().zip([2025.0, 900.0, 506.25, 225.0]) {
        assert_near(*found, wanted, 1e-12, "irradiance");
    }
    let slope = (found[3] / found[0]).ln() / (0.6_f64 / 0.2).ln();
    assert_near(slope, -2.0, 1e-12, "slope of the logarithms");
    assert_near(light_law::log_slope(0.4, 0.0, 0.0), -2.0, 1e-15, "slope in closed form");
}

/// Source: tests/reference/light.py, integrals over the disc and over the plate's energy by scipy.
#[test]
fn states_agree_with_an_independent_calculation() {
    for row in rows("light.csv") {
        let changes = changes(&row[1]);
        let at = [number(&row[2])];
        for (place, state) in [(3, "irradiance"), (4, "lamp_irradiance"), (5, "heating_rate")] {
            assert_near(column(&LampLight, &changes, &at, state)[0], number(&row[place]), 1e-9, state);
        }
    }
}

#[test]
fn a_meter_in_the_lamp_is_refused_with_the_number() {
    let error = run(&LampLight, &POINT, &[0.0]).expect_err("the virtual source lies in the meter");
    assert_eq!(error.to_string(), "`distance` is 0 m, but the model holds from 0.01 to 5 m");
    assert!(matches!(run(&LampLight, &[], &[6.0]), Err(BenchError::OutOfRange { name: "distance", .. })));
    assert!(matches!(run(&LampLight, &[], &[0.3, 0.2]), Err(BenchError::Order { .. })));
    assert!(matches!(run(&LampLight, &[("lamp_radius", f64::NAN)], &[0.3]), Err(BenchError::OutOfRange { .. })));
}

proptest! {
    /// Slope −2 far away, flatter close by.
    #[test]
    fn the_slope_of_the_logarithms_tends_to_minus_two(changes in any(&LampLight), near in 0.05..0.5f64) {
        let changes = changed(&changes, ("meter_aside", 0.0));
        let slope = |at: f64| {
            let light = column(&LampLight, &changes, &[at, 1.0001 * at], "lamp_irradiance");
            (light[1] / light[0]).ln() / 1.0001_f64.ln()
        };
        let (offset, radius) = (value(&LampLight, &changes, "lamp_source_offset"), value(&LampLight, &changes, "lamp_radius"));
        prop_assert!(slope(near) >= -2.0 - 1e-3 && slope(near) < 0.0);
        prop_assert!((slope(near) - light_law::log_slope(near * 1.000_05, offset, radius)).abs() < 1e-3);
        // At 4.9 m an offset of 0.1 m still bends the slope by 2 d_0 / D = 0.04.
        prop_assert!((slope(4.9) + 2.0).abs() <= 2.0 * offset / (4.9 + offset) + 1e-3);
        prop_assert!(slope(4.9) <= slope(near) + 1e-3 || offset + radius < 1e-3);
    }

    #[test]
    fn light_thins_out_and_never_falls_below_the_room(changes in any(&LampLight)) {
        let at: Vec<f64> = (1..50).map(|step| f64::from(step) * 0.1).collect();
        // Beside the axis the light of a very near lamp passes by: from twice the meter's place on it only falls.
        let aside = value(&LampLight, &changes, "meter_aside");
        let light = column(&LampLight, &changes, &at, "irradiance");
        let stray = value(&LampLight, &changes, "stray_irradiance");
        prop_assert!(light.iter().all(|&light| light > stray));
        let far = at.iter().zip(&light).filter(|(at, _)| **at >= 2.0 * aside).map(|(_, light)| *light).collect::<Vec<f64>>();
        prop_assert!(far.windows(2).all(|pair| pair[1] < pair[0]), "{far:?}");
    }

    #[test]
    fn the_heating_rate_is_proportional_to_the_light(changes in any(&LampLight), at in 0.1..1.0f64, further in 1.5..4.0f64) {
        let at = [at, at * further];
        let (light, heating) =
            (column(&LampLight, &changes, &at, "irradiance"), column(&LampLight, &changes, &at, "heating_rate"));
        prop_assert!((heating[1] / heating[0] - light[1] / light[0]).abs() < 1e-12);
    }
}

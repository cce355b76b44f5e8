//! The household: the sky and the f-chart against published examples, an independent calculation, and what must hold.

use labquire::bench::{
    Bench, BenchError, Household, Run, Settings,
    f_chart::{self, System},
    sky::Sky,
};
use proptest::prelude::*;

use crate::reference::{assert_near, number, rows};

fn attempt(changes: &[(&str, f64)], at: &[f64]) -> Result<Run, BenchError> {
    let mut settings = Settings::defaults(&Household);
    for (name, value) in changes {
        settings.set(name, *value).expect("an input of the bench");
    }
    Household.run(&settings, at)
}

fn column<'a>(run: &'a Run, id: &str) -> &'a [f64] {
    let place = Household.states().iter().position(|state| state.id == id);
    &run.columns[place.expect("a state of the bench")]
}

/// Source: Duffie and Beckman, Solar Engineering of Thermal Processes, example 1.10.1 and the table of example 2.19.1
/// (Madison, 43° north, plane tilted by 60°); quoted from memory: H_0 in MJ/m², R_b, irradiation in MJ/m² for K_T 0.48, 0.53
/// and 0.48 in January and February (snow, albedo 0.7) and April (albedo 0.2).
#[test]
fn light_on_a_plane_in_madison() {
    let months =
        [(1, 0.48, 0.7, 13.37, 2.79, 13.7), (2, 0.53, 0.7, 18.81, 2.04, 17.2), (4, 0.48, 0.2, 33.78, 0.96, 14.7)];
    for (month, clearness, albedo, outside, direct, light) in months {
        let sky = Sky::new(43.0, month);
        assert!((sky.extraterrestrial() / 1e6 / outside - 1.0).abs() < 0.005, "month {month}");
        assert!((sky.direct_ratio(60.0) / direct - 1.0).abs() < 0.02, "{}", sky.direct_ratio(60.0));
        let found = sky.irradiation(clearness, 60.0, albedo) / 1e6;
        assert!((found / light - 1.0).abs() < 0.02, "month {month}: {found}");
    }
}

/// Source: Duffie and Beckman, example of a house in Madison in January (F_R U_L 4.0, F_R (τα) 0.74, penalty 0.97,
/// incidence 0.96, −7 °C, 13.7 MJ/m² a day, load 36 GJ, 50 m²); quoted from memory: X 1.54, Y 0.41, f 0.29.
#[test]
fn a_house_in_madison() {
    let house = System {
        area: 50.0,
        gain: 0.74,
        loss: 4.0,
        exchanger: 0.97,
        incidence: 0.96,
        load: 36e9,
        seconds: 31.0 * 86_400.0,
    };
    let (x, y) = (house.loss_ratio(100.0 + 7.0), house.gain_ratio(13.7e6 * 31.0));
    assert!((x - 1.54).abs() < 0.01, "{x}");
    assert!((y - 0.41).abs() < 0.005, "{y}");
    assert!((f_chart::share(x, y) - 0.29).abs() < 0.01, "{}", f_chart::share(x, y));
}

/// Source: coefficients of the correlations as they stand in several public programs (read): at X = 1, Y = 1 the share is
/// their sum, 1.029 − 0.065 − 0.245 + 0.0018 + 0.0215; half the standard store raises X by 2^(1/4).
#[test]
fn the_correlations_have_their_coefficients() {
    assert_near(f_chart::share(1.0, 1.0), 0.7423, 1e-12, "share");
    assert_near(f_chart::water_heating_difference(60.0, 10.0, 5.0), 109.4, 1e-12, "difference");
    assert_near(f_chart::store_correction(37.5), 1.189_207_115, 1e-9, "store");
    assert_near(f_chart::store_correction(f_chart::STANDARD_STORE), 1.0, 1e-12, "standard store");
}

/// Source: scipy `quad` on the documented equations, tests/reference/household.py.
#[test]
fn months_agree_with_an_independent_calculation() {
    for row in rows("household.csv") {
        let changes: Vec<(&str, f64)> = row[1]
            .split(';')
            .map(|part| part.split_once('=').map(|(name, value)| (name, number(value))).expect("name=value"))
            .collect();
        let run = attempt(&changes, &[number(&row[2])]).expect("in range");
        let states = ["irradiation", "air_temperature", "mains_temperature", "load", "loss_ratio", "gain_ratio"];
        for (place, state) in states.into_iter().chain(["solar_share"]).enumerate() {
            assert_near(column(&run, state)[0], number(&row[place + 3]), 1e-9, state);
        }
    }
}

/// The bench as it is: common practice for a house of four in central Europe, no source: 50 to 70 % of the year's heat.
#[test]
fn the_usual_house_gets_more_than_half_from_the_sun() {
    let months: Vec<f64> = (1..=12).map(f64::from).collect();
    let run = attempt(&[], &months).expect("in range");
    let year = |state| column(&run, state).iter().sum::<f64>();
    let share = year("solar_heat") / year("load");
    assert!((0.5..0.75).contains(&share), "{share}");
}

#[test]
fn what_the_correlation_does_not_cover_is_refused() {
    let message = |changes: &[(&str, f64)], at: &[f64]| attempt(changes, at).expect_err("refused").to_string();
    assert_eq!(
        message(&[("store_volume", 100.0)], &[1.0]),
        "`store_volume` is 100 L, but the model holds from 187.5 to 1500 L"
    );
    assert!(message(&[], &[1.5]).contains("`month` is 1.5"));
    assert!(message(&[], &[11.0, 13.0]).contains("`month` is 13"));
    assert!(matches!(attempt(&[], &[3.0, 2.0]), Err(BenchError::Order { .. })));
    let huge = [("collector_area", 30.0), ("store_volume", 2000.0), ("people", 1.0)];
    assert!(message(&huge, &[7.0]).contains("_ratio"));
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 256, ..ProptestConfig::default() })]

    #[test]
    fn shares_and_ledgers_are_sound(
        area in 1.0..12.0f64, people in 1.0..8.0f64, loss in 1.0..9.0f64, tilt in 0.0..90.0f64, latitude in 30.0..60.0f64,
        clearness in 0.42..0.65f64, litres in 40.0..250.0f64,
    ) {
        let changes = [
            ("collector_area", area), ("people", people), ("loss", loss), ("tilt", tilt), ("latitude", latitude),
            ("clearness_mean", clearness), ("store_volume", litres * area),
        ];
        let months: Vec<f64> = (1..=12).map(f64::from).collect();
        let Ok(run) = attempt(&changes, &months) else { return Ok(()) };
        let energy = run.energy.expect("heat flows");
        prop_assert!(energy.residual().abs() <= 1e-6 * energy.supplied, "{energy:?}");
        prop_assert!(column(&run, "solar_share").iter().all(|share| (0.0..=1.0).contains(share)));
        for (solar, light) in column(&run, "solar_heat").iter().zip(column(&run, "light")) {
            prop_assert!(solar < light, "{solar} of {light}");
        }
        // December is the same whether it ends or begins the year.
        let december = attempt(&changes, &[0.0]).expect("as before");
        let ends = [column(&december, "solar_heat")[0], column(&run, "solar_heat")[11]];
        prop_assert!((ends[0] - ends[1]).abs() < 1e-9, "{ends:?}");
        // A larger store never covers less, worse collectors never more.
        let larger = attempt(&[&changes[..], &[("store_volume", 1.2 * litres * area)]].concat(), &months);
        let worse = attempt(&[&changes[..], &[("optical_efficiency", 0.6)]].concat(), &months);
        let (Ok(larger), Ok(worse)) = (larger, worse) else { return Ok(()) };
        for month in 0..12 {
            let of = |run: &Run| column(run, "solar_share")[month];
            prop_assert!(of(&larger) >= of(&run) && of(&worse) <= of(&run));
        }
    }
}

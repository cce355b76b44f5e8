//! Glass covers against textbooks and an independent integration, and what must hold wherever the model holds.

use labquire::bench::{
    Bench, BenchError, CoverGlass, Run, Settings, air,
    convection::Face,
    cover::{Cover, transmittance_absorptance},
    gap::Gap,
    radiation,
};
use proptest::prelude::*;

use crate::reference::{assert_near, number, rows};

fn settings(changes: &[(&str, f64)]) -> Settings {
    let mut settings = Settings::defaults(&CoverGlass);
    for (name, value) in changes {
        settings.set(name, *value).expect("an input of the bench");
    }
    settings
}

fn column<'a>(run: &'a Run, id: &str) -> &'a [f64] {
    let place = CoverGlass.states().iter().position(|state| state.id == id);
    &run.columns[place.expect("a state of the bench")]
}

const PANE: Cover = Cover { refraction: 1.526, extinction: 32.0, thickness: 0.0023, panes: 1 };

/// Source: Duffie and Beckman, examples 5.1.1 and 5.2.1 (from memory): glass of index 1.526 reflects 0.0434 of square light and
/// 0.093 at 60°, where the light inside runs at 34.58°; 2.3 mm of 32 1/m pass 0.915 of it by absorption.
#[test]
fn a_pane_reflects_and_absorbs() {
    let slant = 60.0_f64.to_radians();
    assert!((PANE.reflectance(0.0) - 0.0434).abs() < 5e-5, "{}", PANE.reflectance(0.0));
    assert!((PANE.reflectance(slant) - 0.093).abs() < 5e-4, "{}", PANE.reflectance(slant));
    assert!((PANE.angle_inside(slant).to_degrees() - 34.58).abs() < 0.01);
    assert!((PANE.past_absorption(slant) - 0.915).abs() < 1e-3, "{}", PANE.past_absorption(slant));
    // Light along the surface is reflected in full; polarised light along the plane not at all at Brewster's angle.
    assert!(PANE.reflectance(std::f64::consts::FRAC_PI_2 - 1e-5) > 0.99);
    assert!(PANE.reflectances(libm::atan(1.526))[1] < 1e-12);
}

/// Source: Rai, Non-conventional Energy Sources, example 3.6.1: τ 0.88, α 0.9, ρ_d 0.24: 0.8114754098.
#[test]
fn what_a_plate_keeps_under_a_cover() {
    assert_near(transmittance_absorptance(0.88, 0.9, 0.24), 0.811_475_409_8, 1e-10, "τα");
}

/// Source: Duffie and Beckman, example 6.4.1 (from memory), solved again with CoolProp: plate 100 °C, air and sky 10 °C, ε 0.95
/// and 0.88, gap 25 mm, 45°, wind 10 W/(m² K): glass 48.3540442 °C, U_t 6.621483558, gap 3.501686348 by convection and
/// 8.037136218 by radiation, glass to sky 5.537697069 W/(m² K).
#[test]
fn the_top_loss_under_one_pane() {
    let gap = Gap { width: 0.025, tilt: 45.0_f64.to_radians(), emittances: [0.95, 0.88] };
    let out = |glass: f64| 10.0 * (glass - 10.0) + radiation::net(0.88, glass + 273.15, 283.15);
    let (mut low, mut high) = (10.0_f64, 100.0_f64);
    for _ in 0..60 {
        let middle = (low + high) / 2.0;
        if gap.passage(100.0, middle) > out(middle) { low = middle } else { high = middle }
    }
    assert!((low - 48.354_044_2).abs() < 0.5, "{low}");
    let close = |found: f64, wanted: f64, share: f64| {
        assert!((found / wanted - 1.0).abs() < share, "{found} against {wanted}");
    };
    close(out(low) / 90.0, 6.621_483_558, 0.01);
    close(gap.convection(100.0, low), 3.501_686_348, 0.03);
    close(gap.radiated(100.0, low) / (100.0 - low), 8.037_136_218, 0.01);
    close(radiation::net(0.88, low + 273.15, 283.15) / (low - 10.0), 5.537_697_069, 0.01);
}

/// A gap too narrow or too little warm for convection passes heat by conduction alone, and never less than that.
#[test]
fn still_air_conducts() {
    let gap = Gap { width: 0.008, tilt: 0.0, emittances: [0.9, 0.9] };
    assert_near(gap.nusselt(1700.0), 1.0, 0.0, "below the onset");
    assert!(gap.nusselt(1.0e5) > 2.0);
    let still = air::fluid(30.0).conductivity / 0.008;
    assert_near(gap.convection(30.5, 29.5), still, 1e-12, "a kelvin");
    assert_near(gap.convection(20.0, 40.0), still, 1e-12, "warm above");
    // One pane with its gap passes less than the free face of the same plate.
    let free = air::fluid(40.0).coefficient(Face::UprightLaminar, 40.0, 0.15);
    let wide = Gap { width: 0.02, ..gap };
    assert!(wide.convection(60.0, 40.0) < free);
}

/// Source: scipy `solve_ivp` and `fsolve` on the documented equations, tests/reference/cover_glass.py.
#[test]
fn states_agree_with_an_independent_integration() {
    for row in rows("cover_glass.csv") {
        let changes: Vec<(&str, f64)> = row[1]
            .split(';')
            .map(|part| part.split_once('=').map(|(name, value)| (name, number(value))).expect("name=value"))
            .collect();
        assert_eq!(changes.len(), CoverGlass.inputs().len());
        if row[0] == "0" {
            assert_eq!(settings(&changes), Settings::defaults(&CoverGlass));
        }
        let cell = |place: usize| number(&row[place]);
        let run = CoverGlass.run(&settings(&changes), &[0.0, cell(2)]).expect("settings in range");
        for (place, state) in [
            (3, "bare_plate_temperature"),
            (4, "covered_plate_temperature"),
            (5, "glass_temperature"),
            (6, "bare_probe_temperature"),
            (7, "covered_probe_temperature"),
        ] {
            assert_near(column(&run, state)[1], cell(place), 1e-7, state);
        }
        let energy = run.energy.expect("heat flows");
        assert_near(energy.supplied, cell(8), 1e-7, "supplied");
        assert_near(energy.lost, cell(9), 1e-7, "lost");
        for (place, limit) in (10..13).zip(&run.limits) {
            assert_near(limit.value, cell(place), 1e-8, limit.state);
        }
    }
}

/// Every input over its whole range; what the bench refuses is drawn again.
fn any() -> impl Strategy<Value = Vec<(&'static str, f64)>> {
    let shares = prop::collection::vec(0.0..=1.0f64, CoverGlass.inputs().len());
    shares.prop_filter_map("refused by the bench", |shares| {
        let drawn = CoverGlass.inputs().iter().zip(shares);
        let drawn: Vec<(&'static str, f64)> =
            drawn.map(|(input, share)| (input.name, input.valid.0 + share * (input.valid.1 - input.valid.0))).collect();
        match CoverGlass.run(&settings(&drawn), &[]) {
            Ok(_) => Some(drawn),
            Err(BenchError::Overheated { .. }) => None,
            Err(other) => panic!("{other}"),
        }
    })
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 48, max_local_rejects: 1_000_000, ..ProptestConfig::default() })]

    #[test]
    fn the_ledger_closes(changes in any(), end in 1.0..7200.0f64) {
        let energy = CoverGlass.run(&settings(&changes), &[0.0, end]).expect("in range").energy.expect("heat flows");
        let scale = energy.supplied.max(energy.lost.abs()).max(energy.stored.abs());
        prop_assert!(energy.residual().abs() <= 1e-6 * scale, "{energy:?}");
    }

    /// Glass costs light: the covered plate starts more slowly, whatever it gains later.
    #[test]
    fn the_bare_plate_starts_faster(changes in any()) {
        let run = CoverGlass.run(&settings(&changes), &[0.0, 0.5]).expect("in range");
        let rise = |id| column(&run, id)[1] - column(&run, id)[0];
        prop_assert!(rise("covered_plate_temperature") < rise("bare_plate_temperature"));
    }

    #[test]
    fn the_glass_stays_cooler_than_the_plate_in_sunlight(changes in any()) {
        let mut changes = changes;
        changes.extend([("filament_temperature", 5800.0), ("glass_extinction", 4.0), ("absorptance", 0.95)]);
        let Ok(run) = CoverGlass.run(&settings(&changes), &[]) else { return Ok(()) };
        prop_assert!(run.limits[2].value < run.limits[1].value, "{:?}", run.limits);
    }

    #[test]
    fn a_long_run_ends_at_the_limits(changes in any()) {
        let run = CoverGlass.run(&settings(&changes), &[18_000.0, 36_000.0]).expect("in range");
        for limit in &run.limits {
            // Heavy plates with little loss are still on their way after ten hours, but get on in every hour.
            let [half, end] = [0, 1].map(|row: usize| (limit.value - column(&run, limit.state)[row]).abs());
            prop_assert!(end < 1e-3 || end < 0.8 * half, "{}: {half} K, then {end} K from {}", limit.state, limit.value);
        }
    }

    #[test]
    fn shares_of_the_light_stay_shares(
        refraction in 1.4..1.6f64, extinction in 2.0..40.0f64, thickness in 0.001..0.006f64, panes in 1..4u32,
        angle in 0.0..1.55f64, more in 0.0..0.02f64,
    ) {
        let cover = Cover { refraction, extinction, thickness, panes };
        let through = cover.transmittance(angle);
        prop_assert!((0.0..1.0).contains(&through));
        prop_assert!(cover.transmittance(angle + more) <= through + 1e-9);
        let thicker = Cover { panes: panes + 1, ..cover };
        prop_assert!(thicker.transmittance(angle) < through);
    }
}

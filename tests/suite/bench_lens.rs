//! The lens benches against textbooks and an independent integration, and what must hold wherever their models hold.

use labquire::bench::{
    Bench, BenchError, Lens, LensFocus, LensHeating, Run, Settings,
    lens::{SUN_HALF_ANGLE, Source, burns, caught},
};
use labquire::experiment::{self, catalogue};
use proptest::prelude::*;

use crate::reference::{assert_near, number, rows};

fn settings(bench: &dyn Bench, changes: &[(&str, f64)]) -> Settings {
    let mut settings = Settings::defaults(bench);
    for (name, value) in changes {
        settings.set(name, *value).expect("an input of the bench");
    }
    settings
}

fn column<'a>(bench: &dyn Bench, run: &'a Run, id: &str) -> &'a [f64] {
    let place = bench.states().iter().position(|state| state.id == id);
    &run.columns[place.expect("a state of the bench")]
}

/// Source: thin lens in closed form: f 0.15 m, sun of half angle 4.65 mrad: image 1.395010055 mm; lamp of 20 mm at 1 m: image
/// at 0.1764705882 m, 3.529411765 mm.
#[test]
fn images_of_sun_and_lamp() {
    let lens = Lens { diameter: 0.1, focal_length: 0.15, transmittance: 0.75, blur: 0.0 };
    let close = |found: f64, wanted: f64| assert!((found / wanted - 1.0).abs() < 1e-9, "{found} against {wanted}");
    close(lens.image_size(Source::Far(SUN_HALF_ANGLE)), 0.001_395_010_055);
    let lamp = Source::Near { size: 0.02, distance: 1.0 };
    close(lens.image_distance(lamp), 0.176_470_588_2);
    close(lens.image_size(lamp), 0.003_529_411_765);
    // At the image the spot is the image, at the lens it is the lens.
    close(lens.spot(lamp, lens.image_distance(lamp)), 0.003_529_411_765);
    close(lens.spot(lamp, 0.0), 0.1);
}

/// Source: scipy `solve_ivp` and `brentq` on the documented equations, tests/reference/lens_heating.py.
#[test]
fn targets_agree_with_an_independent_integration() {
    for row in rows("lens_heating.csv") {
        let changes: Vec<(&str, f64)> = row[1]
            .split(';')
            .map(|part| part.split_once('=').map(|(name, value)| (name, number(value))).expect("name=value"))
            .collect();
        let settings = settings(&LensHeating, &changes);
        assert_eq!(changes.len(), LensHeating.inputs().len());
        if row[0] == "0" {
            assert_eq!(settings, Settings::defaults(&LensHeating));
        }
        let cell = |place: usize| number(&row[place]);
        let run = LensHeating.run(&settings, &[0.0, cell(2)]).expect("settings in range");
        for (place, state) in [
            (3, "lens_target_temperature"),
            (4, "bare_target_temperature"),
            (5, "lens_probe_temperature"),
            (6, "bare_probe_temperature"),
        ] {
            assert_near(column(&LensHeating, &run, state)[1], cell(place), 1e-8, state);
        }
        assert!((column(&LensHeating, &run, "spot_diameter")[0] / cell(7) - 1.0).abs() < 1e-12);
        let energy = run.energy.expect("heat flows");
        assert_near(energy.supplied, cell(8), 1e-7, "supplied");
        assert_near(energy.lost, cell(9), 1e-7, "lost");
        assert_near(run.limits[0].value, cell(10), 1e-9, "limit in the spot");
        assert_near(run.limits[1].value, cell(11), 1e-9, "limit without lens");
    }
}

#[test]
fn a_target_that_would_glow_is_refused_with_the_number() {
    let hot = settings(&LensHeating, &[("lens_diameter", 0.2), ("target_diameter", 0.02)]);
    match LensHeating.run(&hot, &[0.0]) {
        Err(error @ BenchError::Overheated { reached, .. }) => {
            assert!(reached > 400.0);
            assert!(error.to_string().contains(&format!("the target would reach {reached:.1} °C")), "{error}");
        }
        other => panic!("{other:?}"),
    }
}

/// 10 kW/m² is ten times full sunlight; common practice, no source. Every experiment on a bench with a spot tells of it.
#[test]
fn experiments_with_a_lens_caution_against_the_spot() {
    assert!(!burns(1_000.0) && burns(10_001.0));
    let mut seen = 0;
    for source in catalogue::sources() {
        let definition = experiment::read(&source).expect("a sound experiment");
        if !["lens-focus", "lens-heating"].contains(&definition.bench.as_str()) {
            continue;
        }
        seen += 1;
        assert!(definition.hazards.iter().any(|hazard| hazard == "focused-light"), "{}", source.name);
        let steps = &definition.setting_up;
        assert!(steps.iter().any(|step| step.caution.as_deref() == Some("focused-light")), "{}", source.name);
    }
    assert_eq!(seen, 2);
    let run = LensHeating.run(&Settings::defaults(&LensHeating), &[0.0]).expect("in range");
    assert!(burns(column(&LensHeating, &run, "spot_irradiance")[0]));
}

/// Every input of a bench over its whole range.
fn any(bench: &'static dyn Bench) -> impl Strategy<Value = Vec<(&'static str, f64)>> {
    prop::collection::vec(0.0..=1.0f64, bench.inputs().len()).prop_map(move |shares| {
        let drawn = bench.inputs().iter().zip(shares);
        drawn.map(|(input, share)| (input.name, input.valid.0 + share * (input.valid.1 - input.valid.0))).collect()
    })
}

fn value(changes: &[(&'static str, f64)], name: &str) -> f64 {
    changes.iter().find(|(known, _)| *known == name).expect("an input").1
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 64, max_global_rejects: 100_000, ..ProptestConfig::default() })]

    #[test]
    fn a_lens_gathers_and_makes_no_power(changes in any(&LensFocus), x in 0.0..1.0f64) {
        let run = LensFocus.run(&settings(&LensFocus, &changes), &[x]).expect("in range");
        let of = |id| column(&LensFocus, &run, id)[0];
        let radius = value(&changes, "lens_diameter") / 2.0;
        let onto_lens = of("irradiance") * std::f64::consts::PI * radius * radius;
        prop_assert!(of("spot_power") < onto_lens);
        let spot = std::f64::consts::PI * of("spot_diameter") * of("spot_diameter") / 4.0;
        prop_assert!((of("spot_irradiance") * spot / of("spot_power") - 1.0).abs() < 1e-12);
        prop_assert!(of("spot_irradiance") / of("irradiance") <= of("area_ratio") * value(&changes, "lens_transmittance") * (1.0 + 1e-12));
    }

    /// The best distance for a near lamp lies beyond the focus, at most a little before the sharp image.
    #[test]
    fn the_best_distance_lies_beyond_the_focus(changes in any(&LensFocus)) {
        let at: Vec<f64> = (0..4000).map(|step| f64::from(step) * 0.0005).collect();
        let run = LensFocus.run(&settings(&LensFocus, &changes), &at).expect("in range");
        let spots = column(&LensFocus, &run, "spot_diameter");
        let best = (0..at.len()).min_by(|&a, &b| spots[a].total_cmp(&spots[b])).expect("a spot");
        let image = column(&LensFocus, &run, "image_distance")[0];
        prop_assert!(image > value(&changes, "focal_length"));
        prop_assert!(at[best] <= image + 0.0005, "{} for {image}", at[best]);
        // An image of the lamp wider than the lens draws the narrowest place towards the lens.
        let width = value(&changes, "source_size") * image / value(&changes, "lamp_distance");
        if width <= value(&changes, "lens_diameter") {
            prop_assert!(at[best] > 0.4 * image, "{} for {image}", at[best]);
        }
    }

    /// Source: Winston et al., limit of concentration `1 / sin² θ`: no lens can pass it, whatever is set.
    #[test]
    fn the_sharp_spot_stays_within_the_second_law(
        diameter in 0.04..0.25f64, focal in 0.05..0.4f64, half_angle in 0.004..0.05f64,
    ) {
        // Light at the rim of a lens comes in under an angle φ with tan φ = W / 2f; its sharpest spot is 2 f tan θ.
        prop_assume!(diameter < 2.0 * focal);
        let lens = Lens { diameter, focal_length: focal, transmittance: 1.0, blur: 0.0 };
        let source = Source::Far(half_angle);
        let found = lens.concentration(lens.spot(source, focal));
        let sine = libm::sin(half_angle);
        prop_assert!(found < 1.0 / (sine * sine), "{found}");
    }

    #[test]
    fn a_target_catches_no_more_than_there_is(changes in any(&LensHeating), disc in 0.001..0.1f64, spot in 0.001..0.1f64) {
        prop_assert!((0.0..=1.0).contains(&caught(disc, spot)));
        prop_assert!(caught(disc, spot) <= caught(disc * 1.1, spot));
        let Ok(run) = LensHeating.run(&settings(&LensHeating, &changes), &[0.0]) else { return Ok(()) };
        // Gains from the limits of the targets: with the lens no more than area ratio times transmittance.
        let ratio = value(&changes, "lens_diameter") / value(&changes, "target_diameter");
        let most = ratio * ratio * value(&changes, "lens_transmittance");
        let (lens, bare) = (run.limits[0].value, run.limits[1].value);
        prop_assert!(most >= 1.0 || lens <= bare + 1e-9, "{most} {lens} {bare}");
        // No target gets hotter than the sun that shines on it.
        prop_assert!(lens < 5_500.0);
    }

    #[test]
    fn the_ledger_closes(changes in any(&LensHeating), end in 1.0..7200.0f64) {
        let Ok(run) = LensHeating.run(&settings(&LensHeating, &changes), &[0.0, end]) else { return Ok(()) };
        let energy = run.energy.expect("heat flows");
        let scale = energy.supplied.max(energy.lost.abs()).max(energy.stored.abs());
        prop_assert!(energy.residual().abs() <= 1e-6 * scale, "{energy:?}");
    }

    #[test]
    fn first_slopes_are_as_the_gathered_light(changes in any(&LensHeating)) {
        let mut changes = changes;
        changes.extend([("start_excess", 0.0), ("light_off", 36_000.0)]);
        let Ok(run) = LensHeating.run(&settings(&LensHeating, &changes), &[0.0, 0.02]) else { return Ok(()) };
        let rise = |id| {
            let curve = column(&LensHeating, &run, id);
            curve[1] - curve[0]
        };
        let spot = column(&LensHeating, &run, "spot_diameter")[0];
        let ratio = value(&changes, "lens_diameter") / value(&changes, "target_diameter");
        let wanted = ratio * ratio * value(&changes, "lens_transmittance") * caught(value(&changes, "target_diameter"), spot);
        let found = rise("lens_target_temperature") / rise("bare_target_temperature");
        prop_assert!((found / wanted - 1.0).abs() < 5e-3, "{found} against {wanted}");
        prop_assert!(found <= ratio * ratio * value(&changes, "lens_transmittance") * 1.005);
    }
}

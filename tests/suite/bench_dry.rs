//! The collector without flow against published cases, an independent integration, and what must always hold.

use labquire::bench::{Bench, BenchError, Collector, DryCollector, Run, Settings};
use proptest::prelude::*;

use crate::reference::{assert_near, number, rows};

fn settings(changes: &[(&str, f64)]) -> Settings {
    let mut settings = Settings::defaults(&DryCollector);
    changes.iter().for_each(|(name, value)| settings.set(name, *value).expect("an input of the bench"));
    settings
}

fn column<'a>(run: &'a Run, id: &str) -> &'a [f64] {
    let place = DryCollector.states().iter().position(|state| state.id == id);
    &run.columns[place.expect("a state of the bench")]
}

fn collector(optical_efficiency: f64, loss_linear: f64, loss_quadratic: f64) -> Collector {
    Collector { area: 1.0, optical_efficiency, loss_linear, loss_quadratic, transfer: 0.0 }
}

/// Source: ISO 9806 curve with the coefficients of an average flat plate, η_0 0.775, a_1 3.75, a_2 0.02: its efficiency
/// vanishes at 1000 W/m² 124.2845443 K above the air (closed root and scipy `brentq`).
#[test]
fn stagnation_is_where_the_efficiency_vanishes() {
    let plate = collector(0.775, 3.75, 0.02);
    let excess = plate.stagnation_excess(1000.0);
    assert_near(excess, 124.284_544_3, 1e-9, "stagnation");
    assert_near(plate.efficiency(1000.0, excess), 0.0, 1e-12, "efficiency at stagnation");
    assert_near(collector(0.8, 10.0, 0.0).stagnation_excess(500.0), 40.0, 1e-12, "a linear loss");
}

/// Source: scipy `solve_ivp` and `brentq` on the documented equations, tests/reference/dry_collector.py.
#[test]
fn states_agree_with_an_independent_integration() {
    let table = rows("dry_collector.csv");
    for set in table.chunk_by(|one, other| one[0] == other[0]) {
        let changes = set[0][1].split(';').filter_map(|part| part.split_once('='));
        let changes: Vec<(&str, f64)> = changes.map(|(name, value)| (name, number(value))).collect();
        assert_eq!(changes.len(), DryCollector.inputs().len());
        if set[0][0] == "0" {
            assert_eq!(settings(&changes), Settings::defaults(&DryCollector));
        }
        let shifts: Vec<f64> = set.iter().map(|row| number(&row[2])).collect();
        let run = DryCollector.run(&settings(&changes), &shifts).expect("in range");
        for (place, row) in set.iter().enumerate() {
            assert_near(column(&run, "plate_temperature")[place], number(&row[3]), 1e-8, "plate");
            assert_near(column(&run, "irradiance")[place], number(&row[6]), 1e-12, "light");
            assert_near(column(&run, "stagnation_temperature")[place], number(&row[7]), 1e-10, "stagnation");
        }
        let (energy, last) = (run.energy.expect("heat flows"), set.last().expect("a row"));
        assert_near(energy.supplied, number(&last[4]), 1e-9, "supplied");
        assert_near(energy.lost, number(&last[5]), 1e-8, "lost");
    }
}

/// A glazed plate close to a strong lamp would get hotter than paint and seals bear.
#[test]
fn a_plate_that_would_burn_is_refused_with_the_number() {
    let hot = settings(&[("loss_linear", 3.0), ("loss_quadratic", 0.0), ("lamp_power", 300.0)]);
    match DryCollector.run(&hot, &[0.0]) {
        Err(error @ BenchError::Overheated { reached, .. }) => {
            assert!(reached > 150.0 && error.to_string().contains(&format!("{reached:.1} °C")), "{error}");
        }
        other => panic!("{other:?}"),
    }
}

proptest! {
    /// The ledger closes; no plate passes its stagnation temperature on the way up; less light, less stagnation.
    #[test]
    fn gain_equals_loss_in_the_end(
        a_1 in 2.0..25.0f64, a_2 in 0.0..0.1f64, capacity in 20.0..200.0f64, wait in 30.0..3600.0f64,
        room in 5.0..40.0f64, power in 20.0..120.0f64, step in 0.01..0.3f64,
    ) {
        let settings = settings(&[
            ("loss_linear", a_1), ("loss_quadratic", a_2), ("plate_capacity", capacity), ("wait", wait),
            ("room_temperature", room), ("lamp_power", power), ("lamp_distance", 0.5),
        ]);
        let run = DryCollector.run(&settings, &[0.0, step, 3.0 * step]).expect("a weak lamp");
        let energy = run.energy.expect("heat flows");
        prop_assert!(energy.residual().abs() <= 1e-6 * energy.supplied.max(1.0), "{energy:?}");
        let (plate, end) = (column(&run, "plate_temperature"), column(&run, "stagnation_temperature"));
        prop_assert!(plate[0] <= end[0] + 1e-7 && plate.iter().all(|&plate| plate >= room - 1e-9));
        prop_assert!(end[0] > end[1] && end[1] > end[2] && end[2] > room);
        let patient = DryCollector.run(&{ let mut long = settings; long.set("wait", 3600.0).expect("an input"); long }, &[0.0]).expect("a weak lamp");
        let area = 0.045 * (a_1 + a_2 * (end[0] - room));
        let settled = (-(3600.0 * area / capacity)).exp() * (end[0] - room);
        prop_assert!((column(&patient, "plate_temperature")[0] - end[0]).abs() <= settled + 1e-6);
    }
}

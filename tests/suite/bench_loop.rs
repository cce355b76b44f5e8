//! The pumped loop against an independent integration, against finer tolerances, and against its own limit.

use labquire::bench::{Bench, PumpedLoop, Settings};

use crate::{
    bench::{column, limit, settings},
    reference::{assert_near, number, rows},
};

fn changes(text: &str) -> Vec<(&str, f64)> {
    text.split(';')
        .map(|part| part.split_once('=').map(|(name, value)| (name, number(value))).expect("name=value"))
        .collect()
}

/// Source: scipy `solve_ivp` (DOP853 at rtol 1e-12, confirmed by Radau) and `brentq` on the documented equations,
/// tests/reference/pumped_loop.py.
#[test]
fn states_agree_with_an_independent_integration() {
    for row in rows("pumped_loop.csv") {
        let settings = settings(&changes(&row[1]));
        let cell = |place: usize| number(&row[place]);
        let run = PumpedLoop.run(&settings, &[0.0, cell(2)]).expect("settings in range");
        assert_near(column(&run, "plate_temperature")[1], cell(3), 1e-8, "plate");
        assert_near(column(&run, "water_temperature")[1], cell(4), 1e-8, "water");
        assert_near(column(&run, "outlet_temperature")[1], cell(5), 1e-8, "outlet");
        let energy = run.energy.expect("heat flows");
        assert_near(energy.supplied, cell(6), 1e-8, "supplied");
        assert_near(energy.lost, cell(7), 1e-8, "lost");
        assert_near(limit(&run, "plate_temperature"), cell(8), 1e-9, "limit of the plate");
        assert_near(limit(&run, "water_temperature"), cell(9), 1e-9, "limit of the water");
    }
}

/// The independent integration starts from the bench's own values, so that its five sets stay near what is printed.
#[test]
fn the_first_reference_set_is_the_bench_as_it_is() {
    let first = &rows("pumped_loop.csv")[0];
    assert_eq!(settings(&changes(&first[1])), Settings::defaults(&PumpedLoop));
    assert_eq!(changes(&first[1]).len(), PumpedLoop.inputs().len());
}

/// The bench as it is suits a lesson: it nears its limit within an hour and stays far from boiling.
#[test]
fn an_hour_shows_the_curve_flatten() {
    let run = PumpedLoop.run(&Settings::defaults(&PumpedLoop), &[0.0, 3600.0]).expect("in range");
    let (water, end) = (column(&run, "water_temperature"), limit(&run, "water_temperature"));
    assert!((50.0..75.0).contains(&end), "{end}");
    assert!((water[1] - water[0]) / (end - water[0]) > 0.95, "{water:?} towards {end}");
}

/// Without its lamp the plate cools the water that the pump warms: the stream leaves colder than it came.
#[test]
fn a_strong_pump_under_a_dim_lamp_heats_the_plate_by_the_water() {
    let dim = [("lamp_power", 20.0), ("lamp_distance", 1.0), ("pump_voltage", 12.0), ("pump_current", 1.0)];
    let run = PumpedLoop.run(&settings(&dim), &[0.0, 3600.0]).expect("in range");
    let ends = ["plate_temperature", "outlet_temperature", "water_temperature"].map(|state| limit(&run, state));
    assert!(ends.windows(2).all(|pair| pair[0] < pair[1]), "{ends:?}");
    assert!(column(&run, "useful_power")[1] < 0.0);
    let energy = run.energy.expect("heat flows");
    assert!(energy.residual().abs() <= 1e-6 * energy.supplied, "{energy:?}");
}

//! The collector in the steady state: an independent solution, and what must always hold.

use labquire::bench::{Bench, BenchError, CollectorFlow, CollectorInlet, Run, Settings};
use proptest::prelude::*;

use crate::reference::{assert_near, number, rows};

fn settings(changes: &[(&str, f64)]) -> Settings {
    let mut settings = Settings::defaults(&CollectorFlow);
    changes.iter().for_each(|(name, value)| settings.set(name, *value).expect("an input of the bench"));
    settings
}

fn column<'a>(run: &'a Run, id: &str) -> &'a [f64] {
    let place = CollectorFlow.states().iter().position(|state| state.id == id);
    &run.columns[place.expect("a state of the bench")]
}

/// Source: scipy `solve_ivp` along the plate and `brentq`, tests/reference/steady_collector.py. Both benches give the same.
#[test]
fn states_agree_with_an_independent_solution() {
    for row in rows("steady_collector.csv") {
        let changes: Vec<(&str, f64)> = row[1]
            .split(';')
            .filter_map(|part| part.split_once('='))
            .map(|(name, value)| (name, number(value)))
            .collect();
        if row[0] == "0" {
            assert_eq!(settings(&changes), Settings::defaults(&CollectorInlet));
        }
        let settings = settings(&changes);
        let flow = CollectorFlow.run(&settings, &[settings.get("flow") / 1000.0]).expect("in range");
        for (place, id) in ["outlet_temperature", "plate_temperature", "useful_power", "efficiency"].iter().enumerate()
        {
            assert_near(column(&flow, id)[0], number(&row[2 + place]), 1e-7, id);
        }
        if settings.get("inlet_excess") >= 0.0 {
            let inlet = CollectorInlet.run(&settings, &[settings.get("inlet_excess")]).expect("in range");
            assert_eq!(inlet.columns, flow.columns);
        }
    }
}

#[test]
fn hot_water_and_a_dry_plate_are_refused_with_the_number() {
    let glazed =
        settings(&[("loss_linear", 3.0), ("loss_quadratic", 0.0), ("inlet_excess", 60.0), ("room_temperature", 34.0)]);
    let error = CollectorFlow.run(&glazed, &[0.0005]).expect_err("94 °C and more");
    assert!(matches!(error, BenchError::TooHot { limit, .. } if limit > 95.0), "{error}");
    let error = CollectorFlow.run(&glazed, &[0.0]).expect_err("a plate without flow");
    assert!(matches!(error, BenchError::Overheated { reached, .. } if reached > 150.0), "{error}");
}

proptest! {
    /// More flow warms the water less, but takes a little more heat; the efficiency stays below the plate's share of the
    /// light while the water is no colder than the room, and falls as the inlet gets warmer.
    #[test]
    fn flow_and_inlet_act_as_they_must(
        a_1 in 2.0..25.0f64, a_2 in 0.0..0.1f64, transfer in 0.5..30.0f64, distance in 0.3..1.0f64,
        slow in 0.5..5.0f64, factor in 1.2..3.0f64, excess in 0.0..20.0f64, warmer in 1.0..20.0f64,
    ) {
        let settings = settings(&[
            ("loss_linear", a_1), ("loss_quadratic", a_2), ("plate_transfer", transfer), ("lamp_distance", distance),
            ("inlet_excess", excess), ("flow", slow),
        ]);
        let by_flow = CollectorFlow.run(&settings, &[slow / 1000.0, slow * factor / 1000.0]);
        // A poor passage under strong light may overheat the plate; that is refused, not computed.
        prop_assume!(by_flow.is_ok());
        let by_flow = by_flow.expect("checked");
        let rise: Vec<f64> = column(&by_flow, "outlet_temperature").iter().map(|&t| t - 20.0 - excess).collect();
        let useful = column(&by_flow, "useful_power");
        prop_assert!(useful[1] >= useful[0] - 1e-9 || useful[0] < 0.0, "{useful:?}");
        prop_assert!(rise[1].abs() < rise[0].abs() + 1e-9, "{rise:?}");
        let by_inlet = CollectorInlet.run(&settings, &[excess, excess + warmer]);
        prop_assume!(by_inlet.is_ok());
        let efficiency = by_inlet.map(|run| column(&run, "efficiency").to_vec()).expect("checked");
        prop_assert!(efficiency[0] <= 0.92 + 1e-12 && efficiency[1] < efficiency[0], "{efficiency:?}");
    }
}

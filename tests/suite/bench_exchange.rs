//! Exchangers against textbooks and independent integrations, and what must hold of them and of a store behind a coil.

use labquire::bench::{
    Bench, BenchError, CoilStore, Exchanger, Run, Settings,
    exchange::{self, Arrangement},
};
use proptest::prelude::*;

use crate::{
    reference::{assert_near, number, rows},
    runs::{any, changes, pick as column, settings},
};

fn close(found: f64, wanted: f64, relative: f64) {
    assert!((found / wanted - 1.0).abs() <= relative, "found {found}, wanted {wanted}");
}

/// Source: Incropera, Fundamentals of Heat and Mass Transfer, example 11.1, re-solved (library ht 1.2.0 for the mean): oil
/// 0.1 kg/s at 2131 J/(kg K) from 100 to 60 °C against water 0.2 kg/s at 4178 J/(kg K) from 30 °C.
#[test]
fn an_oil_cooler_in_counterflow() {
    let heat: f64 = 0.1 * 2131.0 * 40.0;
    close(heat, 8524.0, 1e-9);
    let outlet = 30.0 + heat / (0.2 * 4178.0);
    close(outlet, 40.201_053_14, 1e-9);
    let mean = exchange::log_mean(Arrangement::Counter.ends((100.0, 60.0), (30.0, outlet)));
    close(mean, 43.199_985_5, 1e-8);
    let reynolds = exchange::tube_reynolds(0.2, 0.025, 725e-6);
    let inner = exchange::turbulent_nusselt(reynolds, 4.85) * 0.625 / 0.025;
    let overall = exchange::overall_coefficient(inner, 5.63 * 0.138 / (0.045 - 0.025));
    close(overall, 38.187_545_24, 1e-6);
    let length = heat / (overall * std::f64::consts::PI * 0.025 * mean);
    close(length, 65.788_232_19, 1e-6);
}

/// Source: Cengel, Heat and Mass Transfer, examples 11-4 and 11-8, re-solved (library ht 1.2.0): water 1.2 kg/s at
/// 4180 J/(kg K) from 20 to 80 °C by a brine of 2 kg/s at 4310 J/(kg K) from 160 °C, 640 W/(m² K).
#[test]
fn a_water_heater_by_both_methods() {
    let (cold, hot) = (1.2 * 4180.0, 2.0 * 4310.0);
    let heat: f64 = cold * 60.0;
    close(heat, 300_960.0, 1e-9);
    let outlet = 160.0 - heat / hot;
    close(outlet, 125.085_846_9, 1e-9);
    let mean = exchange::log_mean(Arrangement::Counter.ends((160.0, outlet), (20.0, 80.0)));
    close(mean, 91.973_446_72, 1e-8);
    let effectiveness = heat / (cold * 140.0);
    close(effectiveness, 0.428_571_428_6, 1e-9);
    let units = Arrangement::Counter.transfer_units(effectiveness, cold / hot);
    close(units, 0.652_362_199_5, 1e-8);
    close(units * cold / 640.0, 5.112_888_739, 1e-8);
    close(heat / (640.0 * mean), 5.112_888_739, 1e-8);
    close(Arrangement::Counter.effectiveness(units, cold / hot), effectiveness, 1e-12);
}

/// Source: library ht 1.2.0 at NTU 2, C_r 1: counterflow 0.6667, parallel flow 0.491 (`(1 − e⁻⁴) / 2`).
#[test]
fn equal_streams_do_better_in_counterflow() {
    close(Arrangement::Counter.effectiveness(2.0, 1.0), 2.0 / 3.0, 1e-12);
    assert!((Arrangement::Parallel.effectiveness(2.0, 1.0) - 0.491).abs() < 5e-4);
    // Where the ratio comes near one, nothing jumps.
    close(Arrangement::Counter.effectiveness(2.0, 1.0 - 2e-9), 2.0 / 3.0, 1e-8);
}

/// Source: the local balances of one shell pass and two tube passes, solved with scipy `expm` and `brentq`. Crossed streams:
/// the local balances on a grid of 400 by 400 cells, NTU 1, C_r 1: 0.47622; NTU 2, C_r 0.5: 0.73241; the relation in use
/// is an approximation within 2 %.
#[test]
fn streams_through_a_shell_and_across_each_other() {
    for (units, ratio, wanted) in [(1.0, 1.0, 0.462_670_994), (2.0, 0.5, 0.693_092_131_7), (0.7, 0.25, 0.472_808_906_9)]
    {
        close(Arrangement::Shell.effectiveness(units, ratio), wanted, 1e-9);
        close(Arrangement::Shell.transfer_units(wanted, ratio), units, 1e-8);
    }
    for (units, ratio, wanted) in [(1.0, 1.0, 0.476_22), (2.0, 0.5, 0.732_41)] {
        close(Arrangement::Crossed.effectiveness(units, ratio), wanted, 0.02);
    }
}

/// Source: `ε = 1 − exp(−NTU)` with 8 W/K and 3 g/s at 4180 J/(kg K) (library ht 1.2.0): NTU 0.6379585327, ε 0.4716300262.
#[test]
fn a_coil_in_a_stirred_store() {
    let units = 8.0 / (0.003 * 4180.0);
    close(units, 0.637_958_532_7, 1e-9);
    close(exchange::coil_effectiveness(units), 0.471_630_026_2, 1e-9);
    close(exchange::coil_transfer_units(0.471_630_026_2), units, 1e-9);
}

/// Source: scipy `solve_ivp` (DOP853 at rtol 1e-12, confirmed by Radau) on the documented equations,
/// tests/reference/coil_store.py.
#[test]
fn a_charged_store_agrees_with_an_independent_integration() {
    let table = rows("coil_store.csv");
    assert_eq!(settings(&CoilStore, &changes(&table[0][1])), Settings::defaults(&CoilStore));
    assert_eq!(changes(&table[0][1]).len(), CoilStore.inputs().len());
    for row in table {
        let cell = |place: usize| number(&row[place]);
        let run = CoilStore.run(&settings(&CoilStore, &changes(&row[1])), &[0.0, cell(2)]).expect("in range");
        let states = ["store_temperature", "store_probe", "inlet_temperature", "return_temperature", "passed_power"];
        for (place, state) in (3..).zip(states) {
            assert_near(column(&CoilStore, &run, state)[1], cell(place), 1e-8, state);
        }
        assert_near(run.energy.expect("heat flows").lost, cell(8), 1e-8, "lost");
    }
}

/// Source: the local balances integrated along the tube by scipy `solve_ivp`, tests/reference/exchanger.py.
#[test]
fn two_streams_agree_with_an_integration_along_the_tube() {
    let table = rows("exchanger.csv");
    assert_eq!(settings(&Exchanger, &changes(&table[0][1])), Settings::defaults(&Exchanger));
    assert_eq!(changes(&table[0][1]).len(), Exchanger.inputs().len());
    for row in table {
        let cell = |place: usize| number(&row[place]);
        let run = Exchanger.run(&settings(&Exchanger, &changes(&row[1])), &[cell(2)]).expect("in range");
        let states = [
            "counter_hot_outlet",
            "counter_cold_outlet",
            "counter_power",
            "parallel_hot_outlet",
            "parallel_cold_outlet",
            "parallel_power",
        ];
        for (place, state) in (3..).zip(states) {
            assert_near(column(&Exchanger, &run, state)[0], cell(place), 1e-7, state);
        }
    }
}

#[test]
fn what_the_benches_do_not_cover_is_refused() {
    let hot = settings(&CoilStore, &[("heater_power", 300.0), ("source_excess", 70.0)]);
    let error = CoilStore.run(&hot, &[0.0, 3600.0]).expect_err("it boils");
    assert!(matches!(error, BenchError::Overheated { part: "source", reached, .. } if reached > 95.0), "{error}");
    let error = Exchanger.run(&Settings::defaults(&Exchanger), &[1.0, 31.0]).expect_err("too strong");
    assert!(matches!(error, BenchError::OutOfRange { name: "cold_flow", .. }), "{error}");
    let error = Exchanger.run(&Settings::defaults(&Exchanger), &[2.0, 1.0]).expect_err("no order");
    assert!(matches!(error, BenchError::Order { .. }), "{error}");
}

fn charge(changes: &[(&'static str, f64)], at: &[f64]) -> Result<Run, BenchError> {
    CoilStore.run(&settings(&CoilStore, changes), at)
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 128, max_global_rejects: 100_000, ..ProptestConfig::default() })]

    #[test]
    fn effectiveness_lies_between_zero_and_one(units in 1e-3..20.0f64, ratio in 0.0..=1.0f64) {
        let (counter, parallel) = (
            Arrangement::Counter.effectiveness(units, ratio),
            Arrangement::Parallel.effectiveness(units, ratio),
        );
        prop_assert!(parallel > 0.0 && counter < 1.0 + 1e-12);
        prop_assert!(counter >= parallel - 1e-12);
        prop_assert!(counter <= exchange::coil_effectiveness(units) + 1e-12);
        let shell = Arrangement::Shell.effectiveness(units, ratio);
        prop_assert!(parallel - 1e-12 <= shell && shell <= counter + 1e-12);
        let factor = Arrangement::Shell.correction(units.min(2.0), ratio);
        prop_assert!(factor > 0.0 && factor <= 1.0 + 1e-9, "{factor}");
    }

    #[test]
    fn both_methods_give_the_same_heat(units in 0.05..6.0f64, ratio in 0.05..0.999f64) {
        for arrangement in [Arrangement::Crossed, Arrangement::Shell] {
            let share = arrangement.effectiveness(units, ratio);
            let back = arrangement.transfer_units(share, ratio);
            // Near its greatest effectiveness a shell hardly tells how large it is.
            let again = arrangement.effectiveness(back, ratio);
            prop_assert!((again / share - 1.0).abs() < 1e-7, "{arrangement:?}");
        }
        for arrangement in [Arrangement::Counter, Arrangement::Parallel] {
            let share = arrangement.effectiveness(units, ratio);
            // The weaker stream is the hot one, from 1 to 0; its rate is 1.
            let ends = arrangement.ends((1.0, 1.0 - share), (0.0, ratio * share));
            prop_assert!((units * exchange::log_mean(ends) / share - 1.0).abs() < 1e-7, "{arrangement:?}");
            prop_assert!((arrangement.transfer_units(share, ratio) / units - 1.0).abs() < 1e-6);
        }
    }

    #[test]
    fn streams_balance_and_never_pass_their_inlets(drawn in any(&Exchanger), flow in 0.1..30.0f64) {
        let settings = settings(&Exchanger, &drawn);
        let run = Exchanger.run(&settings, &[flow]).expect("in range");
        let energy = run.energy.expect("heat flows");
        prop_assert!(energy.residual().abs() <= 1e-9 * energy.supplied.abs().max(1.0), "{energy:?}");
        let of = |state| column(&Exchanger, &run, state)[0];
        prop_assert!(of("counter_power") >= of("parallel_power") * (1.0 - 1e-12));
        let low = settings.get("cold_inlet").min(settings.get("room_temperature"));
        let high = settings.get("hot_inlet").max(settings.get("room_temperature"));
        for state in ["counter_hot_outlet", "counter_cold_outlet", "parallel_hot_outlet", "parallel_cold_outlet"] {
            prop_assert!((low - 1e-9..=high + 1e-9).contains(&of(state)), "{state}");
        }
    }

    #[test]
    fn the_ledger_of_a_charged_store_closes(drawn in any(&CoilStore), end in 1.0..3600.0f64) {
        let run = charge(&drawn, &[0.0, end]);
        prop_assume!(run.is_ok());
        let energy = run.expect("in range").energy.expect("heat flows");
        let scale = energy.supplied.max(energy.lost.abs()).max(energy.stored.abs());
        prop_assert!(energy.residual().abs() <= 1e-6 * scale, "{energy:?}");
    }

    #[test]
    fn a_store_never_passes_its_source_while_it_is_charged(drawn in any(&CoilStore)) {
        let at: Vec<f64> = (0..121).map(|row| f64::from(row) * 15.0).collect();
        let of = |name: &str| settings(&CoilStore, &drawn).get(name);
        // From a store that is no warmer than its source; the store's own heat keeps it up if the source cools faster.
        prop_assume!(of("store_excess") <= of("source_excess"));
        prop_assume!(charge(&drawn, &at).is_ok());
        let run = charge(&drawn, &at).expect("in range");
        let (store, source) = (column(&CoilStore, &run, "store_temperature"), column(&CoilStore, &run, "inlet_temperature"));
        let hottest = source.iter().copied().fold(of("room_temperature"), f64::max);
        prop_assert!(store.iter().all(|&t| t <= hottest + 1e-6));
        // As long as the store gets warmer without the room's help, its source is the warmer one.
        for (pair, place) in store.windows(2).zip(1..) {
            let warmed = pair[1] > pair[0] + 1e-6 && pair[0] > of("room_temperature");
            prop_assert!(!warmed || source[place - 1] > pair[0], "{} and {}", source[place - 1], pair[0]);
        }
    }

    #[test]
    fn the_return_lies_between_store_and_source(drawn in any(&CoilStore)) {
        let run = charge(&drawn, &[0.0, 60.0, 600.0]);
        prop_assume!(run.is_ok());
        let run = run.expect("in range");
        let of = |state| column(&CoilStore, &run, state);
        for row in 0..3 {
            let (one, other) = (of("store_temperature")[row], of("inlet_temperature")[row]);
            let back = of("return_temperature")[row];
            prop_assert!((one.min(other) - 1e-9..=one.max(other) + 1e-9).contains(&back));
            prop_assert!(of("effectiveness")[row] > 0.0 && of("effectiveness")[row] < 1.0);
        }
    }
}

/// Without a heater all ends at the temperature of the room, with one where both balances say.
#[test]
fn a_long_run_ends_at_the_limit() {
    for heater in [0.0, 10.0] {
        let run = charge(&[("heater_power", heater)], &[0.0, 300_000.0]).expect("in range");
        for limit in &run.limits {
            let end = column(&CoilStore, &run, limit.state)[1];
            assert!((end - limit.value).abs() < 1e-4, "{}: {end} against {}", limit.state, limit.value);
        }
    }
}

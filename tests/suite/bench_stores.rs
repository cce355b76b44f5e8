//! Stores side by side: paraffin and water, bare and covered. Against independent integrations, and what must hold.

use labquire::bench::{Bench, BenchError, CoveredStore, Settings, StorePair, cover_resistance, covered_loss};
use proptest::prelude::*;

use crate::{
    reference::{assert_near, number, rows},
    runs::{any, changes, pick as column, settings},
};

fn agrees(bench: &dyn Bench, table: &str, states: &[&str]) {
    let table = rows(table);
    for (index, row) in table.iter().enumerate() {
        let changes = changes(&row[1]);
        let settings = settings(bench, &changes);
        if index == 0 {
            assert_eq!(settings, Settings::defaults(bench));
            assert_eq!(changes.len(), bench.inputs().len());
        }
        let run = bench.run(&settings, &[0.0, number(&row[2])]).expect("in range");
        for (place, state) in (3..).zip(states) {
            let what = format!("set {} at {} s: {state}", row[0], row[2]);
            assert_near(column(bench, &run, state)[1], number(&row[place]), 1e-8, &what);
        }
    }
}

/// Source: scipy `solve_ivp` on the documented equations, tests/reference/store_pair.py. What a store gives off is what it
/// loses, as nothing heats it.
#[test]
fn paraffin_and_water_agree_with_an_independent_integration() {
    let states = ["paraffin_temperature", "water_temperature", "molten_share", "paraffin_heat", "water_heat"];
    agrees(&StorePair, "store_pair.csv", &states);
}

/// Source: scipy `solve_ivp` on the documented equations, tests/reference/covered_store.py.
#[test]
fn bare_and_covered_agree_with_an_independent_integration() {
    let states = ["bare_temperature", "covered_temperature", "supplied_heat", "bare_lost", "covered_lost"];
    agrees(&CoveredStore, "covered_store.csv", &states);
}

/// Source: `K = A / (δ/k + 1/h)` by hand: 0.03 m², h 10 W/(m² K), 10 mm of mineral fibre 0.036 W/(m K): 0.3 W/K bare,
/// 0.03 / (0.27778 + 0.1) = 0.079412 W/K covered; 900 J/K then have time constants of 50 and 189 minutes.
#[test]
fn ten_millimetres_of_mineral_fibre() {
    let covered = covered_loss(0.3, cover_resistance(0.01, 0.036, 0.03));
    assert!((covered - 0.079_411_764_7).abs() < 1e-9, "{covered}");
    assert!((900.0 / covered / 60.0 - 189.0).abs() < 0.5);
}

/// Source: enthalpies between 70 and 20 °C added up by hand; water by the table of IAPWS-95.
#[test]
fn in_the_end_both_gave_off_their_enthalpies() {
    let run = StorePair.run(&Settings::defaults(&StorePair), &[0.0, 100_000.0]).expect("in range");
    // 80 g: 14 K of liquid at 2300, melting 180 000 with 2 K at 2200, 34 K of solid at 2100 J/(kg K), vessel 20 J/K over 50 K.
    let paraffin = 0.08 * (14.0 * 2300.0 + 180_000.0 + 2.0 * 2200.0 + 34.0 * 2100.0) + 20.0 * 50.0;
    assert_near(column(&StorePair, &run, "paraffin_heat")[1], paraffin, 1e-9, "paraffin");
    // IAPWS-95 by table: h(70 °C) − h(20 °C) = 293.12 − 84.01 kJ/kg.
    let water = 0.08 * 209_110.0 + 20.0 * 50.0;
    assert!((column(&StorePair, &run, "water_heat")[1] / water - 1.0).abs() < 2e-4);
}

#[test]
fn boiling_is_refused() {
    let error =
        CoveredStore.run(&settings(&CoveredStore, &[("heating_time", 7200.0)]), &[0.0, 7200.0]).expect_err("boils");
    assert!(matches!(error, BenchError::Overheated { reached, .. } if reached > 95.0), "{error}");
    // Between two readings the heater is switched off too late.
    let late = [("heating_time", 4000.0)];
    let error = CoveredStore.run(&settings(&CoveredStore, &late), &[0.0, 60_000.0]).expect_err("boils in between");
    assert!(matches!(error, BenchError::Overheated { .. }), "{error}");
    let error = StorePair.run(&Settings::defaults(&StorePair), &[3.0, 1.0]).expect_err("no order");
    assert!(matches!(error, BenchError::Order { .. }), "{error}");
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 128, max_global_rejects: 100_000, ..ProptestConfig::default() })]

    #[test]
    fn the_ledger_of_both_pairs_closes(
        pair in any(&StorePair), cover in any(&CoveredStore), off in 0.0..2000.0f64, end in 1.0..7200.0f64,
    ) {
        let cover: Vec<_> = cover.into_iter().chain([("heating_time", off)]).collect();
        for run in [
            StorePair.run(&settings(&StorePair, &pair), &[0.0, end]),
            CoveredStore.run(&settings(&CoveredStore, &cover), &[0.0, end]),
        ].into_iter().flatten() {
            let energy = run.energy.expect("heat flows");
            let scale = energy.supplied.max(energy.lost.abs()).max(energy.stored.abs()).max(1.0);
            prop_assert!(energy.residual().abs() <= 1e-6 * scale, "{energy:?}");
        }
    }

    #[test]
    fn a_cover_keeps_a_heated_store_warmer(cover in any(&CoveredStore), off in 60.0..2000.0f64) {
        let of = |name: &str| settings(&CoveredStore, &cover).get(name);
        prop_assume!(of("cover_thickness") > 1e-4 && of("start_excess") >= 0.0);
        prop_assume!(of("heater_voltage") * of("heater_current") > 0.5);
        let cover: Vec<_> = cover.iter().copied().chain([("heating_time", off)]).collect();
        let at: Vec<f64> = (1..60).map(|row| f64::from(row) * 120.0).collect();
        let Ok(run) = CoveredStore.run(&settings(&CoveredStore, &cover), &at) else { return Ok(()) };
        let (bare, covered) = (column(&CoveredStore, &run, "bare_temperature"), column(&CoveredStore, &run, "covered_temperature"));
        prop_assert!(bare.iter().zip(covered).all(|(bare, covered)| covered > bare));
    }

    #[test]
    fn a_cover_never_loses_more_than_its_own_conduction(bare in 0.05..1.0f64, layer in 0.0..100.0f64) {
        let covered = covered_loss(bare, layer);
        prop_assert!(covered <= bare && covered * layer <= 1.0);
    }

    #[test]
    fn paraffin_that_freezes_is_warmer_than_its_room_and_cools_down(pair in any(&StorePair)) {
        let of = |name: &str| settings(&StorePair, &pair).get(name);
        prop_assume!(of("start_temperature") > of("room_temperature") + 1.0);
        let at: Vec<f64> = (0..120).map(|row| f64::from(row) * 60.0).collect();
        let run = StorePair.run(&settings(&StorePair, &pair), &at).expect("in range");
        let heat = column(&StorePair, &run, "paraffin_heat");
        prop_assert!(heat.windows(2).all(|pair| pair[1] >= pair[0] - 1e-9));
        let room = of("room_temperature");
        prop_assert!(column(&StorePair, &run, "paraffin_temperature").iter().all(|&t| t >= room - 1e-9));
        // Water never warms up again; paraffin does only where a supercooled melt freezes.
        prop_assert!(column(&StorePair, &run, "water_temperature").windows(2).all(|pair| pair[1] <= pair[0] + 1e-9));
        let share = column(&StorePair, &run, "molten_share");
        prop_assert!(share.windows(2).all(|pair| pair[1] <= pair[0] + 1e-12));
    }
}

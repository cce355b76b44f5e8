//! The thermoelectric module against published cases, and what must hold on its benches wherever their models hold.

use labquire::bench::{
    Bench, BenchError, ModuleLoad, ModuleMotor, ModuleStores, Source, Thermoelectric,
    thermoelectric::{
        best_cooling_performance, best_efficiency, carnot_cooling, carnot_efficiency, load_ratio, peltier_heat,
    },
};
use proptest::prelude::*;

use crate::{
    bench_circuits::{column, run},
    reference::assert_near,
};

/// Data-sheet maxima of a module of 127 couples, 40 mm by 40 mm: 15.4 V, 6.0 A, 67 K at a hot face of 300 K.
/// Source of the relations: Lineykin and Ben-Yaakov 2007 (from memory); values in closed form outside this program.
fn module() -> Thermoelectric {
    Thermoelectric::from_maxima(15.4, 6.0, 67.0, 300.0)
}

#[test]
fn constants_follow_from_data_sheet_maxima() {
    let module = module();
    assert_near(module.seebeck, 0.051_333_333_33, 1e-10, "α");
    assert_near(module.resistance, 1.993_444_444, 1e-9, "R");
    assert_near(module.conductance, 0.535_552_238_8, 1e-10, "K");
    assert!((module.merit() - 0.002_468_271_657).abs() < 1e-12);
    assert_near(module.largest_difference(300.0), 67.0, 1e-12, "largest difference");
}

/// Source: Rai, Non-conventional Energy Sources, example 13.4.1 (600 K, 300 K, Z = 0.002 1/K): M 1.38, η 0.1007.
#[test]
fn the_best_efficiency_follows_from_the_figure_of_merit() {
    assert_near(load_ratio(0.002, 600.0, 300.0), 1.378_404_875, 1e-9, "M");
    assert_near(best_efficiency(0.002, 600.0, 300.0), 0.100_725_056_7, 1e-9, "η");
    assert_near(carnot_efficiency(600.0, 300.0), 0.5, 1e-15, "Carnot");
    // The same as the best of all loads of a module with this Z.
    let module = Thermoelectric { seebeck: 0.04, resistance: 2.0, conductance: 0.4 };
    let load = module.resistance * load_ratio(module.merit(), 600.0, 300.0);
    let of = |load: f64| module.efficiency(600.0, 300.0, module.current(600.0, 300.0, load));
    assert_near(of(load), best_efficiency(module.merit(), 600.0, 300.0), 1e-12, "best load");
    assert!(of(load) > of(0.99 * load) && of(load) > of(1.01 * load));
}

/// Source: Rai, example 13.2.1 (55 µV/K at 373 K, 50 µV/K at 273 K, 10 mA): 0.205 mW and 0.1365 mW.
#[test]
fn a_junction_takes_up_peltier_heat() {
    assert!((peltier_heat(5.5e-5, 373.0, 0.01) - 0.000_205_15).abs() < 1e-10);
    assert!((peltier_heat(5.0e-5, 273.0, 0.01) - 0.000_136_5).abs() < 1e-10);
}

/// Source: Bird, Electrical Circuit Theory and Technology, chapter 13, example 20 (6 V, 2.5 Ω): 3.6 W at 2.5 Ω.
#[test]
fn the_matched_load_takes_most_power() {
    let source = Source { voltage: 6.0, resistance: 2.5 };
    assert_near(source.matched_load(), 2.5, 1e-15, "load");
    assert_near(source.most_power(), 3.6, 1e-12, "power");
    assert_near(source.power(1.25), 3.2, 1e-12, "half the load");
    assert_near(source.power(5.0), 3.2, 1e-12, "double load");
}

/// Source: the lumped model in closed form and by a numerical maximum (scipy), faces at 308 K and 288 K; Ioffe (from memory).
#[test]
fn a_heat_pump_has_a_best_and_a_strongest_current() {
    let module = Thermoelectric { seebeck: 0.051_333_333_33, resistance: 1.993_444_444, conductance: 0.535_552_238_8 };
    let (hot, cold) = (308.0, 288.0);
    let best = module.best_driving_current(hot, cold);
    assert_near(best, 1.622_621_613, 1e-7, "current of the best performance");
    assert_near(module.cooling_performance(hot, cold, best), 1.540_765_818, 1e-7, "performance at it");
    assert_near(best_cooling_performance(module.merit(), hot, cold), 1.540_765_818, 1e-7, "best performance");
    assert_near(module.strongest_driving_current(cold), 7.416_309_013, 1e-7, "current of most cooling");
    assert_near(module.most_cooling(hot, cold), 44.110_311_45, 1e-7, "most cooling");
    assert_near(-module.heat_out(hot, cold, -7.416_309_013), 44.110_311_45, 1e-7, "cooling at that current");
    assert_near(carnot_cooling(hot, cold), 14.4, 1e-12, "Carnot");
    // As a heater it gives what it takes from the cold side and the electrical power: one more.
    let heating = -module.heat_in(hot, cold, -best) / -module.power(hot, cold, -best);
    assert_near(heating, 2.540_765_818, 1e-7, "heating performance");
}

/// Source: lumped model in closed form, faces held at 70 °C and 30 °C, matched load.
#[test]
fn a_generator_with_fixed_faces_closes_its_balance() {
    let (wanted, module) = ([2.053_333_333, 0.515_021_459_2, 0.528_755_364_8, 30.229_832_04, 29.701_076_68], module());
    let changes = [
        ("source_temperature", 70.0),
        ("sink_temperature", 30.0),
        ("hot_resistance", 0.0),
        ("cold_resistance", 0.0),
        ("seebeck", module.seebeck),
        ("module_resistance", module.resistance),
        ("conductance", module.conductance),
    ];
    let found = run(&ModuleLoad, &changes, &[module.resistance]).expect("in range");
    let of = |id| column(&ModuleLoad, &found, id)[0];
    for (id, wanted) in ["open_voltage", "current", "power", "heat_in", "heat_out"].into_iter().zip(wanted) {
        assert_near(of(id), wanted, 1e-8, id);
    }
    assert_near(of("heat_in") - of("heat_out") - of("power"), 0.0, 1e-9, "balance");
    assert_near(of("efficiency"), 0.017_491_177_72, 1e-8, "efficiency");
}

/// Source: lumped model solved outside this program: 90 °C and 20 °C behind 0.8 K/W each, faces 74 and 36 °C without a
/// load, 0.342 W at 2.74 Ω, the ratio of open voltage and steady short-circuit current.
#[test]
fn floating_faces_shift_the_best_load() {
    let module = module();
    let changes = [
        ("source_temperature", 90.0),
        ("hot_resistance", 0.8),
        ("cold_resistance", 0.8),
        ("seebeck", module.seebeck),
        ("module_resistance", module.resistance),
        ("conductance", module.conductance),
    ];
    let found = run(&ModuleLoad, &changes, &[0.0, 2.6, 2.74, 2.88, 1e9]).expect("in range");
    let of = |id| column(&ModuleLoad, &found, id);
    assert!((of("hot_face")[4] - 74.0).abs() < 0.5 && (of("cold_face")[4] - 36.0).abs() < 0.5);
    assert!((of("power")[2] - 0.342).abs() < 0.000_5);
    assert!(of("power")[2] > of("power")[1] && of("power")[2] > of("power")[3]);
    assert!((of("open_voltage")[4] / of("current")[0] - 2.74).abs() < 0.01);
}

/// After the supply is switched off, equal stores approach each other with `C / (2 K + K_s)`; closed form.
#[test]
fn left_alone_the_stores_approach_each_other() {
    let changes = [
        ("heater_power", 0.0),
        ("hot_capacity", 400.0),
        ("cold_capacity", 400.0),
        ("hot_loss", 0.1),
        ("cold_loss", 0.1),
        ("hot_start", 20.0),
        ("cold_start", -10.0),
        ("load_resistance", 1e9),
    ];
    let constant = 400.0 / (2.0 * 0.53 + 0.1);
    let found = run(&ModuleStores, &changes, &[0.0, constant, 2.0 * constant]).expect("in range");
    let apart: Vec<f64> = column(&ModuleStores, &found, "hot_temperature")
        .iter()
        .zip(column(&ModuleStores, &found, "cold_temperature"))
        .map(|(hot, cold)| hot - cold)
        .collect();
    assert_near(apart[1] / apart[0], 0.367_879_441_2, 1e-7, "one time constant");
    assert_near(apart[2] / apart[0], 0.135_335_283_2, 1e-7, "two time constants");
}

#[test]
fn what_would_boil_or_freeze_is_refused_with_the_number() {
    let hot = run(&ModuleStores, &[("heater_power", 60.0)], &[0.0]).expect_err("a limit above 95 °C");
    assert!(
        matches!(hot, BenchError::LeavesModel { state: "hot_temperature", reached, .. } if reached > 95.0),
        "{hot}"
    );
    let cold = [("heater_power", 0.0), ("cold_loss", 0.02), ("supply_current", 4.0), ("hot_water", 0.3)];
    let cold = run(&ModuleStores, &cold, &[0.0, 600.0]).expect_err("the cold store freezes");
    assert!(
        matches!(cold, BenchError::LeavesModel { state: "cold_temperature", reached, .. } if reached < 0.0),
        "{cold}"
    );
    assert!(cold.to_string().starts_with("`cold_temperature` would reach -"), "{cold}");
    let heavy = run(&ModuleMotor, &[], &[100.0, 5000.0]).expect_err("five kilograms stand");
    assert!(matches!(heavy, BenchError::LeavesModel { state: "speed", reached, .. } if reached < 0.0), "{heavy}");
}

prop_compose! {
    /// Every input of the bench over its whole range.
    fn any_of(bench: &'static dyn Bench)(
        shares in prop::collection::vec(0.0..=1.0f64, bench.inputs().len())
    ) -> Vec<(&'static str, f64)> {
        let values = bench.inputs().iter().zip(shares);
        values.map(|(input, share)| (input.name, input.valid.0 + share * (input.valid.1 - input.valid.0))).collect()
    }
}

fn with(base: &[(&'static str, f64)], changes: &[(&'static str, f64)]) -> Vec<(&'static str, f64)> {
    base.iter().chain(changes).copied().collect()
}

fn value(changes: &[(&'static str, f64)], name: &str) -> f64 {
    changes.iter().rev().find(|(known, _)| *known == name).expect("an input").1
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 128, max_local_rejects: 1_000_000, ..ProptestConfig::default() })]

    #[test]
    fn heat_in_less_heat_out_is_the_power(changes in any_of(&ModuleLoad), load in 0.0..50.0f64) {
        let run = run(&ModuleLoad, &changes, &[load]).expect("in range");
        let of = |id| column(&ModuleLoad, &run, id)[0];
        prop_assert!((of("heat_in") - of("heat_out") - of("power")).abs() <= 1e-9 * of("heat_in").abs().max(1.0));
        // Both heat resistances carry just these flows.
        let source = value(&changes, "source_temperature") - value(&changes, "hot_resistance") * of("heat_in");
        let sink = value(&changes, "sink_temperature") + value(&changes, "cold_resistance") * of("heat_out");
        prop_assert!((source - of("hot_face")).abs() < 1e-8 && (sink - of("cold_face")).abs() < 1e-8);
    }

    #[test]
    fn a_generator_stays_below_carnot(changes in any_of(&ModuleLoad), load in 0.0..50.0f64) {
        prop_assume!(value(&changes, "source_temperature") > value(&changes, "sink_temperature") + 0.01);
        let run = run(&ModuleLoad, &changes, &[load]).expect("in range");
        let of = |id| column(&ModuleLoad, &run, id)[0];
        let carnot = carnot_efficiency(of("hot_face") + 273.15, of("cold_face") + 273.15);
        prop_assert!(of("efficiency") >= 0.0 && of("efficiency") < carnot, "{} of {carnot}", of("efficiency"));
    }

    #[test]
    fn open_voltage_is_proportional_to_the_difference_through_zero(
        changes in any_of(&ModuleLoad), sink in 20.0..60.0f64, apart in 0.0..15.0f64,
    ) {
        let fixed = with(&changes, &[("hot_resistance", 0.0), ("cold_resistance", 0.0), ("sink_temperature", sink)]);
        let of = |apart: f64| {
            let run = run(&ModuleLoad, &with(&fixed, &[("source_temperature", sink + apart)]), &[1e9]).expect("in range");
            column(&ModuleLoad, &run, "voltage")[0]
        };
        let seebeck = value(&fixed, "seebeck");
        prop_assert!((of(apart) - seebeck * apart).abs() < 1e-6);
        prop_assert!((of(-apart) + seebeck * apart).abs() < 1e-6);
        prop_assert!(of(0.0).abs() < 1e-9);
    }

    #[test]
    fn fixed_faces_give_most_power_at_the_internal_resistance(changes in any_of(&ModuleLoad), other in 0.1..10.0f64) {
        let fixed = with(&changes, &[("hot_resistance", 0.0), ("cold_resistance", 0.0)]);
        let own = value(&fixed, "module_resistance");
        let of = |load| column(&ModuleLoad, &run(&ModuleLoad, &fixed, &[load]).expect("in range"), "power")[0];
        let most = of(own);
        prop_assert!(of(other * own) <= most * (1.0 + 1e-12));
        prop_assert!((of(own / 2.0) - most * 8.0 / 9.0).abs() <= 1e-12 + 1e-9 * most);
        prop_assert!((of(own * 2.0) - most * 8.0 / 9.0).abs() <= 1e-12 + 1e-9 * most);
    }

    #[test]
    fn floating_faces_want_a_larger_load(changes in any_of(&ModuleLoad), resistance in 0.05..2.0f64) {
        let floating = with(&changes, &[
            ("source_temperature", 90.0), ("sink_temperature", 20.0), ("hot_resistance", resistance),
            ("cold_resistance", resistance),
        ]);
        let own = value(&floating, "module_resistance");
        let run = run(&ModuleLoad, &floating, &[own, own * 1.001]).expect("in range");
        let power = column(&ModuleLoad, &run, "power");
        prop_assert!(power[1] > power[0], "{power:?}");
        let hot = column(&ModuleLoad, &run, "hot_face");
        prop_assert!(hot[0] < hot[1], "the smaller load draws more heat: {hot:?}");
    }

    #[test]
    fn the_ledger_of_the_stores_closes(changes in any_of(&ModuleStores), end in 1.0..1200.0f64) {
        let Ok(run) = run(&ModuleStores, &changes, &[0.0, end]) else { return Ok(()) };
        let energy = run.energy.expect("heat flows");
        let scale = energy.supplied.abs().max(energy.lost.abs()).max(energy.stored.abs());
        prop_assert!(energy.residual().abs() <= 1e-6 * scale, "{energy:?}");
    }

    #[test]
    fn a_heat_pump_heats_more_than_it_cools_and_stays_below_carnot(
        changes in any_of(&ModuleStores), water in 0.05..0.2f64, current in 0.3..4.0f64, end in 20.0..300.0f64,
    ) {
        let pump = with(&changes, &[
            ("heater_power", 0.0), ("hot_water", water), ("cold_water", water), ("hot_capacity", 40.0),
            ("cold_capacity", 40.0), ("supply_current", current), ("hot_start", 0.0), ("cold_start", 0.0),
            ("hot_loss", 0.1), ("cold_loss", 0.1),
        ]);
        let Ok(run) = run(&ModuleStores, &pump, &[0.0, end]) else { return Ok(()) };
        let of = |id| column(&ModuleStores, &run, id);
        let (hot, cold) = (of("hot_temperature"), of("cold_temperature"));
        prop_assert!(hot[1] - hot[0] > cold[0] - cold[1], "{hot:?} {cold:?}");
        let electrical = of("voltage")[1] * of("current")[1];
        prop_assert!((electrical - of("electrical_power")[1]).abs() < 1e-9);
        // Heat flows count from hot to cold: here both are negative.
        prop_assert!((of("heat_out")[1] - of("heat_in")[1] - electrical).abs() < 1e-9);
        let performance = -of("heat_out")[1] / electrical;
        if hot[1] > cold[1] {
            prop_assert!(performance < carnot_cooling(hot[1] + 273.15, cold[1] + 273.15));
        }
        prop_assert!(performance < -of("heat_out")[0] / of("electrical_power")[0], "it falls with the difference");
    }

    #[test]
    fn a_generator_ends_at_its_limit(changes in any_of(&ModuleStores)) {
        let slow = with(&changes, &[("supply_current", 0.0), ("hot_water", 0.0), ("cold_water", 0.0), ("probe_lag", 0.0)]);
        let slowest = 1000.0 / value(&slow, "hot_loss").min(value(&slow, "cold_loss"));
        let Ok(run) = run(&ModuleStores, &slow, &[20.0 * slowest]) else { return Ok(()) };
        for limit in &run.limits {
            let end = column(&ModuleStores, &run, limit.state)[0];
            prop_assert!((end - limit.value).abs() < 1e-4, "{}: {end} against {}", limit.state, limit.value);
        }
    }

    #[test]
    fn a_lift_loses_at_every_step(changes in any_of(&ModuleMotor), load in 1.0..300.0f64) {
        let Ok(run) = run(&ModuleMotor, &changes, &[load]) else { return Ok(()) };
        let of = |id| column(&ModuleMotor, &run, id)[0];
        prop_assert!(of("lifting_power") < of("power") && of("power") < of("heat_in"));
        prop_assert!((of("heat_in") - of("heat_out") - of("power")).abs() <= 1e-9 * of("heat_in").abs().max(1.0));
    }
}

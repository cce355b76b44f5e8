//! The paraffin store and what it is made of, against published cases, an independent integration and what must hold.

use labquire::bench::{Bench, BenchError, ParaffinStore, Run, Settings, Wax, stefan};
use proptest::prelude::*;

use crate::{
    reference::{assert_near, number, rows},
    runs::{self, changes},
};

fn settings(changes: &[(&str, f64)]) -> Settings {
    runs::settings(&ParaffinStore, changes)
}

fn run(changes: &[(&str, f64)], at: &[f64]) -> Run {
    runs::run(&ParaffinStore, changes, at).expect("in range")
}

fn column<'a>(run: &'a Run, id: &str) -> &'a [f64] {
    runs::pick(&ParaffinStore, run, id)
}

/// Source: `λ exp(λ²) erf(λ) = Ste / √π` (Carslaw and Jaeger, section 11.2; Crank, equation 3.14), roots by mpmath.
#[test]
fn the_front_follows_neumann() {
    let roots = [
        (0.01, 0.070_593_276_56),
        (0.1, 0.220_016_272_7),
        (0.2, 0.306_423_905_4),
        (0.5, 0.464_785_920_6),
        (1.0, 0.620_062_633_3),
        (2.0, 0.800_601_362_8),
    ];
    for (stefan, root) in roots {
        assert!((stefan::neumann_root(stefan) / root - 1.0).abs() < 1e-9, "{stefan}");
    }
    // Small Ste: the straight line of Stefan's law.
    assert!((stefan::neumann_root(1e-6) / libm::sqrt(0.5e-6) - 1.0).abs() < 1e-6);
}

/// Source: one-phase example of a published solver test (liquid fraction about 81 % after 10 h), re-solved with mpmath:
/// k 1.5 W/(m K), c 2500 J/(kg K), ρ 870 kg/m³, L 179 kJ/kg, 10 K, slab 0.1 m.
#[test]
fn a_slab_melts_from_one_wall() {
    let number = stefan::stefan_number(2500.0, 10.0, 179e3);
    assert!((number - 0.139_664_804_5).abs() < 1e-9);
    let root = stefan::neumann_root(number);
    assert!((root / 0.258_415_437_1 - 1.0).abs() < 1e-9);
    let front = stefan::front(root, 1.5 / (870.0 * 2500.0), 36_000.0);
    assert!((front / 0.081_435_862_18 - 1.0).abs() < 1e-9);
    assert!((front / 0.1 - 0.81).abs() < 0.006);
}

/// Source: Brij Lal and Subrahmanyam, Heat and Thermodynamics, example 8.6: ice from 10 to 15 cm at 10 K below freezing,
/// 0.9 g/cm³, 80 cal/g, 0.005 cal/(cm s K): 90 000 s, 25 h.
#[test]
fn ice_grows_by_stefans_law() {
    let calorie = 4.184;
    let time = stefan::growth_time((0.10, 0.15), 900.0, 80e3 * calorie, 0.5 * calorie, 10.0);
    assert!((time / 90_000.0 - 1.0).abs() < 1e-9, "{time}");
}

/// Source: CRC Handbook values (library chemicals 1.5.2): melting points and heats of fusion of n-docosane to
/// n-hexacosane. All of them are stores that the bench runs, and melt where and with what the handbook says.
#[test]
fn single_alkanes_melt_at_their_melting_points() {
    let alkanes = [
        (44.4, 157.114_937),
        (49.0, 156.672_012_9),
        (52.5, 160.636_024_2),
        (53.5, 161.335_881_5),
        (56.7, 163.618_383_5),
    ];
    for (melting, latent) in alkanes {
        let alkane = [("melting_temperature", melting), ("latent_heat", latent), ("start_excess", melting - 20.0)];
        let run = run(&alkane, &[0.0, 1.0, 60.0]);
        assert!(column(&run, "paraffin_temperature").iter().all(|t| (t - melting).abs() < 1e-9));
        let heat = column(&run, "stored_heat")[2] / column(&run, "molten_share")[2];
        assert!((heat / (80.0 * latent) - 1.0).abs() < 1e-9, "{heat}");
    }
}

/// Source: piecewise exact solution of `C dT/dt = P − UA (T − T_a)` and `m L / (P − UA (T_m − T_a))` on the plateau,
/// confirmed by a scipy enthalpy integration: 80 g, 180 kJ/kg, 2100 and 2300 J/(kg K), vessel 20 J/K, 55 °C, 15 W,
/// 0.12 W/K, 20 °C: 514.6563716 s to the melting point, plateau 1333.333333 s, then 200.2311606 s to 65 °C.
#[test]
fn the_plateau_times_of_a_lumped_store() {
    let (begin, plateau, after) = (514.656_371_6, 1_333.333_333_3, 200.231_160_6);
    let at = [begin, begin + plateau / 2.0, begin + plateau, begin + plateau + after];
    let run = run(&[], &at);
    let (heat, share) = (column(&run, "paraffin_temperature"), column(&run, "molten_share"));
    for (found, wanted) in heat.iter().zip([55.0, 55.0, 55.0, 65.0]) {
        assert!((found - wanted).abs() < 1e-6, "{heat:?}");
    }
    for (found, wanted) in share.iter().zip([0.0, 0.5, 1.0, 1.0]) {
        assert!((found - wanted).abs() < 1e-8, "{share:?}");
    }
    let stored = column(&run, "stored_heat");
    assert!((stored[2] - stored[0] - 14_400.0).abs() < 1e-4, "{stored:?}");
}

/// Source: the ratio of `L + c_s ΔT_s + c_l ΔT_l` to the enthalpy of water (IAPWS-95) between 48 and 62 °C: 100 g hold
/// 21.1 kJ as paraffin, 5.9 kJ as water, 3.6 times as much.
#[test]
fn around_the_melting_point_paraffin_holds_more_than_water() {
    let wax = Wax { melting: 55.0, range: 0.0, latent: 180e3, solid: 2100.0, liquid: 2300.0 };
    assert!((0.1 * wax.heat(48.0, 62.0) / 1000.0 - 21.1).abs() < 0.05);
    assert!((wax.gain_over_water(48.0, 62.0) - 3.6).abs() < 0.05);
}

/// Source: scipy `solve_ivp` between events (DOP853 at rtol 1e-12, confirmed by Radau) on the documented equations,
/// tests/reference/paraffin_store.py.
#[test]
fn states_agree_with_an_independent_integration() {
    let table = rows("paraffin_store.csv");
    assert_eq!(settings(&changes(&table[0][1])), Settings::defaults(&ParaffinStore));
    assert_eq!(changes(&table[0][1]).len(), ParaffinStore.inputs().len());
    for row in table {
        let cell = |place: usize| number(&row[place]);
        let run = run(&changes(&row[1]), &[0.0, cell(2)]);
        for (place, state) in [
            (3, "probe_temperature"),
            (4, "paraffin_temperature"),
            (5, "wall_temperature"),
            (6, "molten_share"),
            (7, "stored_heat"),
        ] {
            assert_near(column(&run, state)[1], cell(place), 1e-8, &format!("set {} at {} s: {state}", row[0], row[2]));
        }
        let energy = run.energy.expect("heat flows");
        assert_near(energy.supplied, cell(8), 1e-8, "supplied");
        assert_near(energy.lost, cell(9), 1e-8, "lost");
    }
}

/// Common practice, no source: a supercooled melt jumps up to its melting point when it begins to freeze.
#[test]
fn a_supercooled_melt_jumps_to_its_plateau() {
    let hot = [("heater_voltage", 0.0), ("start_excess", 40.0), ("supercooling", 2.0), ("loss", 0.3)];
    let at: Vec<f64> = (0..120).map(|row| f64::from(row) * 10.0).collect();
    let run = run(&hot, &at);
    let heat = column(&run, "paraffin_temperature");
    let coldest = heat.iter().position(|&t| t < 53.5).expect("it is supercooled");
    assert!(heat[coldest..].iter().any(|&t| (t - 55.0).abs() < 1e-9), "{heat:?}");
    assert!(heat.iter().all(|&t| t >= 53.0 - 1e-9));
}

#[test]
fn an_overheated_store_is_refused_with_the_number() {
    let error = ParaffinStore.run(&settings(&[]), &[0.0, 3600.0]).expect_err("an hour is too long");
    assert!(matches!(error, BenchError::Overheated { reached, .. } if reached > 95.0 && reached < 145.0), "{error}");
    ParaffinStore.run(&settings(&[("heating_time", 2000.0)]), &[0.0, 3600.0]).expect("switched off in time");
    let error = ParaffinStore.run(&settings(&[]), &[5.0, 1.0]).expect_err("no order");
    assert!(matches!(error, BenchError::Order { .. }));
}

/// Every input over its whole range; what the bench refuses is drawn again.
fn any() -> impl Strategy<Value = Vec<(&'static str, f64)>> {
    // Most heaters of the range would overheat the wax within an hour.
    (runs::any(&ParaffinStore), 0.0..4000.0f64).prop_filter_map("refused", |(drawn, off)| {
        let drawn = runs::changed(&drawn, ("heating_time", off));
        runs::run(&ParaffinStore, &drawn, &[0.0, 7200.0]).is_ok().then_some(drawn)
    })
}

fn with(base: &[(&'static str, f64)], more: &[(&'static str, f64)]) -> Vec<(&'static str, f64)> {
    base.iter().chain(more).copied().collect()
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 128, max_local_rejects: 1_000_000, ..ProptestConfig::default() })]

    #[test]
    fn the_ledger_closes(changes in any(), end in 1.0..7200.0f64) {
        let energy = run(&changes, &[0.0, end]).energy.expect("heat flows");
        let scale = energy.supplied.max(energy.lost.abs()).max(energy.stored.abs());
        prop_assert!(energy.residual().abs() <= 1e-9 * scale, "{energy:?}");
    }

    #[test]
    fn the_temperature_stands_while_solid_and_liquid_coexist(changes in any()) {
        let pure = with(&changes, &[("melting_range", 0.0)]);
        let at: Vec<f64> = (0..240).map(|row| f64::from(row) * 30.0).collect();
        let Ok(run) = ParaffinStore.run(&settings(&pure), &at) else { return Ok(()) };
        let melting = settings(&pure).get("melting_temperature");
        for (t, share) in column(&run, "paraffin_temperature").iter().zip(column(&run, "molten_share")) {
            prop_assert!(!(1e-9..1.0 - 1e-9).contains(share) || (t - melting).abs() < 1e-9, "{t} at {share}");
        }
    }

    #[test]
    fn the_plateau_lasts_as_long_as_the_power_left_needs(changes in any(), part in 0.1..0.9f64) {
        let of = |name: &str| settings(&changes).get(name);
        let pure = with(&changes, &[
            ("melting_range", 0.0), ("wall_resistance", 0.0), ("heating_time", 86_400.0),
            ("start_excess", of("melting_temperature") - of("room_temperature")),
        ]);
        let left = of("heater_voltage") * of("heater_current")
            - of("loss") * (of("melting_temperature") - of("room_temperature"));
        prop_assume!(left > 0.1);
        let length = of("paraffin_mass") * 1000.0 * of("latent_heat") / left;
        prop_assume!(length < 80_000.0);
        let run = run(&pure, &[part * length, 0.999_999 * length, 1.000_001 * length]);
        let share = column(&run, "molten_share");
        prop_assert!((share[0] - part).abs() < 1e-9);
        prop_assert!(share[1] < 1.0 && share[2] == 1.0);
    }

    #[test]
    fn cooling_gives_back_what_heating_took(changes in any(), span in 1.0..20.0f64) {
        let of = |name: &str| settings(&changes).get(name);
        let wax = Wax {
            melting: of("melting_temperature"), range: of("melting_range"), latent: 1000.0 * of("latent_heat"),
            solid: of("solid_heat_capacity"), liquid: of("liquid_heat_capacity"),
        };
        let (low, high) = (wax.solidus() - span, wax.liquidus() + span);
        prop_assert!((wax.heat(low, high) + wax.heat(high, low)).abs() < 1e-6);
        // On the bench: heated from the room and left to cool for days, the store holds what it held.
        let start = with(&changes, &[("start_excess", 0.0)]);
        prop_assume!(ParaffinStore.run(&settings(&start), &[7200.0]).is_ok());
        let run = run(&start, &[0.0, 2_000_000.0]);
        let energy = run.energy.expect("heat flows");
        prop_assert!(energy.stored.abs() <= 1e-6 * energy.supplied.max(1.0), "{energy:?}");
        prop_assert!((energy.lost - energy.supplied).abs() <= 1e-6 * energy.supplied.max(1.0));
    }

    #[test]
    fn the_gain_over_water_shrinks_with_the_span(changes in any(), span in 0.5..15.0f64, wider in 0.5..10.0f64) {
        let of = |name: &str| settings(&changes).get(name);
        let wax = Wax {
            melting: of("melting_temperature"), range: of("melting_range"), latent: 1000.0 * of("latent_heat"),
            solid: of("solid_heat_capacity"), liquid: of("liquid_heat_capacity"),
        };
        let gain = |span: f64| wax.gain_over_water(wax.solidus() - span, wax.liquidus() + span);
        prop_assert!(gain(span + wider) < gain(span));
    }

    #[test]
    fn the_wall_leads_while_heating_and_the_probe_stays_between(changes in any()) {
        let at: Vec<f64> = (0..120).map(|row| f64::from(row) * 60.0).collect();
        let run = run(&changes, &at);
        let paraffin = column(&run, "paraffin_temperature");
        let (low, high) = paraffin.iter().fold((f64::MAX, f64::MIN), |(low, high), &t| (low.min(t), high.max(t)));
        let fine: Vec<f64> = (0..7200).map(f64::from).collect();
        let all = self::run(&changes, &fine);
        let every = column(&all, "paraffin_temperature");
        let (low, high) = every.iter().fold((low, high), |(low, high), &t| (low.min(t), high.max(t)));
        prop_assert!(column(&run, "probe_temperature").iter().all(|&t| t >= low - 0.1 && t <= high + 0.1));
        let rates = column(&run, "stored_heat").windows(2).map(|pair| pair[1] - pair[0]);
        for (rate, place) in rates.zip(1..) {
            let lead = column(&run, "wall_temperature")[place] - paraffin[place];
            let on = column(&run, "heater_power")[place] == column(&run, "heater_power")[place - 1];
            prop_assert!(!on || lead * rate >= -1e-9, "{lead} at {rate}");
        }
    }
}

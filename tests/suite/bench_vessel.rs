//! Vessels of warm water, alone and side by side: published cases, an independent integration, and what must hold.

use labquire::bench::{
    Bench, BenchError, InsulatedVessels, Run, Settings, Vessel, cooling,
    evaporation::{OpenSurface, saturation_pressure},
    insulation::{Sleeve, Wall},
};
use proptest::prelude::*;

use crate::reference::{assert_near, number, rows};

fn settings(bench: &dyn Bench, changes: &[(&str, f64)]) -> Settings {
    let mut settings = Settings::defaults(bench);
    for (name, value) in changes {
        settings.set(name, *value).expect("an input of the bench");
    }
    settings
}

fn run(bench: &dyn Bench, changes: &[(&str, f64)], at: &[f64]) -> Run {
    bench.run(&settings(bench, changes), at).expect("in range")
}

fn column<'a>(bench: &dyn Bench, run: &'a Run, id: &str) -> &'a [f64] {
    let place = bench.states().iter().position(|state| state.id == id);
    &run.columns[place.expect("a state of the bench")]
}

/// Source: Brij Lal and Subrahmanyam, Heat and Thermodynamics, example 3.1: from 80 to 50 °C in 5 min in a room of 20 °C;
/// from 60 to 30 °C takes 10 min.
#[test]
fn cooling_from_sixty_to_thirty() {
    let constant = cooling::constant(80.0, 50.0, 20.0, 5.0);
    assert_near(cooling::time_between(60.0, 30.0, 20.0, constant), 10.0, 1e-9, "time");
    assert_near(cooling::after(60.0, 20.0, constant, 10.0), 30.0, 1e-9, "temperature");
}

/// Source: Brij Lal and Subrahmanyam, example 3.4: from 70 to 50 °C in 4 min in a room of 25 °C; to 40 °C in 3.476 min more.
#[test]
fn cooling_from_fifty_to_forty() {
    let constant = cooling::constant(70.0, 50.0, 25.0, 4.0);
    assert_near(cooling::time_between(50.0, 40.0, 25.0, constant), 3.476_265_484, 1e-9, "time");
}

/// Source: Brij Lal and Subrahmanyam, example 3.7: 100 g of water in 300 s, 85 g of a liquid in 120 s, water equivalent
/// 10 g: 0.4 cal/(g K).
#[test]
fn a_liquid_by_comparison_with_water() {
    assert_near(cooling::capacity_by_comparison(85.0, 120.0, 100.0, 300.0, 10.0), 0.4, 1e-12, "capacity");
}

/// Source: three readings of an exponential have their limit by a geometric series (closed form).
#[test]
fn three_readings_give_the_limit() {
    let [a, b, c] = [0.0, 7.0, 14.0].map(|time| cooling::after(80.0, 21.0, 30.0, time));
    assert_near(cooling::limit(a, b, c), 21.0, 1e-9, "limit");
}

/// Source: Incropera et al., example 3.5: k 0.055 W/(m K), h 5 W/(m² K), tube radius 5 mm: critical radius 11 mm, 6 mm of
/// insulation. The loss itself must be largest there.
#[test]
fn a_thin_sleeve_may_raise_the_loss() {
    let sleeve = |thickness| Sleeve { inner_radius: 0.005, thickness, conductivity: 0.055, film: 5.0 };
    assert_near(sleeve(0.0).critical_radius(), 0.011, 1e-12, "critical radius");
    let loss = |thickness| sleeve(thickness).loss_per_metre();
    assert_near(loss(0.0), 2.0 * std::f64::consts::PI * 0.005 * 5.0, 1e-12, "bare tube");
    assert!(loss(0.006) > loss(0.0) && loss(0.006) > loss(0.0055) && loss(0.006) > loss(0.0065));
}

/// Source: plane wall with film (closed form); conductivities of library ht 1.2.0 (ASHRAE): mineral fibre 0.036, cellular
/// glass 0.048 W/(m K); 0.03 m², h 10 W/(m² K), 10 mm, 900 J/K: 0.3, 0.07941176471, 0.0972972973 W/K; 3000 and 11 333.3 s.
#[test]
fn insulation_of_a_beaker() {
    let loss = |thickness, conductivity| Wall { area: 0.03, film: 10.0, thickness, conductivity }.loss_per_kelvin();
    assert_near(loss(0.0, 0.036), 0.3, 1e-12, "bare");
    assert!((loss(0.01, 0.036) / 0.079_411_764_71 - 1.0).abs() < 1e-9);
    assert!((loss(0.01, 0.048) / 0.097_297_297_3 - 1.0).abs() < 1e-9);
    assert_near(900.0 / loss(0.0, 0.036), 3000.0, 1e-9, "time constant, bare");
    assert_near(900.0 / loss(0.01, 0.036), 11_333.333_33, 1e-9, "time constant, mineral fibre");
}

/// Source: steam tables (from memory): 2.339 kPa at 20 °C, 19.95 kPa at 60 °C. An open cup at 60 °C loses about as much by
/// evaporation as a beaker by its wall: common practice, no source.
#[test]
fn an_open_cup_loses_about_as_much_again() {
    assert!((saturation_pressure(20.0) / 2339.0 - 1.0).abs() < 0.01);
    assert!((saturation_pressure(60.0) / 19_950.0 - 1.0).abs() < 0.01);
    let surface = OpenSurface { area: 0.004, film: 6.0, humidity: 0.5 };
    let wall = 0.3 * 40.0;
    assert!((0.5..1.5).contains(&(surface.loss(60.0, 20.0) / wall)), "{}", surface.loss(60.0, 20.0));
}

/// Source: scipy `solve_ivp` (DOP853 at rtol 1e-12, confirmed by Radau) and `brentq` on the documented equations,
/// tests/reference/vessel.py.
#[test]
fn states_agree_with_an_independent_integration() {
    for row in rows("vessel.csv") {
        let changes: Vec<(&str, f64)> = row[1]
            .split(';')
            .map(|part| part.split_once('=').map(|(name, value)| (name, number(value))).expect("name=value"))
            .collect();
        let cell = |place: usize| number(&row[place]);
        let run = run(&Vessel, &changes, &[0.0, cell(2)]);
        assert_near(column(&Vessel, &run, "water_temperature")[1], cell(3), 1e-8, "water");
        assert_near(column(&Vessel, &run, "probe_temperature")[1], cell(4), 1e-8, "sensor");
        let energy = run.energy.expect("heat flows");
        assert_near(energy.supplied, cell(5), 1e-8, "supplied");
        assert_near(energy.lost, cell(6), 1e-8, "lost");
        match run.limits.first() {
            Some(limit) => assert_near(limit.value, cell(7), 1e-9, "limit"),
            None => assert!(cell(7) > 95.0, "no limit, but {}", cell(7)),
        }
    }
}

/// The four vessels are the single vessel four times, and the ranking is that of the layers.
#[test]
fn vessels_side_by_side_are_vessels() {
    let at = [0.0, 600.0, 1800.0];
    let together = run(&InsulatedVessels, &[], &at);
    let layers = [(0.0, 0.04), (0.01, 0.16), (0.01, 0.042), (0.01, 0.036)];
    for (column_at, (thickness, conductivity)) in together.columns.iter().zip(layers) {
        let alone = [("layer_thickness", thickness), ("layer_conductivity", conductivity), ("start_temperature", 75.0)];
        let alone = run(&Vessel, &alone, &at);
        assert_eq!(column_at, column(&Vessel, &alone, "probe_temperature"));
    }
    assert!((1..4).all(|place| together.columns[place][2] > together.columns[place - 1][2]));
}

#[test]
fn boiling_is_refused() {
    let changes = [("heater_voltage", 230.0), ("heater_current", 4.0)];
    let error = Vessel.run(&settings(&Vessel, &changes), &[0.0, 600.0]).expect_err("a kettle without a switch");
    assert!(matches!(error, BenchError::TooHot { limit, .. } if limit > 95.0), "{error}");
    Vessel.run(&settings(&Vessel, &changes), &[0.0, 5.0]).expect("not yet");
}

/// A closed vessel over its whole range, without a heater.
fn closed() -> impl Strategy<Value = Vec<(&'static str, f64)>> {
    let sizes = (0.05..1.5f64, 0.0..500.0f64, 0.005..0.12f64, 4.0..25.0f64);
    let layers = (0.0..0.05f64, 0.02..1.5f64, 0.0..0.3f64);
    (sizes, layers, 10.0..35.0f64, 40.0..92.0f64).prop_map(|((m, c, a, h), (t, k, l), room, start)| {
        vec![
            ("water_mass", m),
            ("vessel_capacity", c),
            ("wall_area", a),
            ("film", h),
            ("layer_thickness", t),
            ("layer_conductivity", k),
            ("lid_loss", l),
            ("room_temperature", room),
            ("start_temperature", start),
        ]
    })
}

fn with<'a>(changes: &[(&'a str, f64)], change: &[(&'a str, f64)]) -> Vec<(&'a str, f64)> {
    changes.iter().chain(change).copied().collect()
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 64, ..ProptestConfig::default() })]

    #[test]
    fn the_ledger_closes(changes in closed(), open in 0.0..0.01f64, volts in 0.0..24.0f64, share in 0.5..1.0f64) {
        let more = [("open_area", open), ("heater_voltage", volts), ("heater_current", 1.0), ("heater_heat_share", share)];
        if let Ok(run) = Vessel.run(&settings(&Vessel, &with(&changes, &more)), &[0.0, 1800.0]) {
            let energy = run.energy.expect("heat flows");
            let scale = energy.supplied.max(energy.lost.abs()).max(energy.stored.abs());
            prop_assert!(energy.residual().abs() <= 1e-6 * scale, "{energy:?}");
        }
    }

    /// Straight to within the change of water's heat capacity, 0.5 % from 25 to 95 °C.
    #[test]
    fn the_logarithm_of_the_difference_is_a_straight_line(changes in closed()) {
        let room = settings(&Vessel, &changes).get("room_temperature");
        let run = run(&Vessel, &changes, &[0.0, 900.0, 1800.0]);
        let water = column(&Vessel, &run, "water_temperature");
        let logs: Vec<f64> = water.iter().map(|t| libm::log(t - room)).collect();
        let (first, second) = (logs[0] - logs[1], logs[1] - logs[2]);
        prop_assert!((first / second - 1.0).abs() < 0.01, "{first} and {second}");
    }

    #[test]
    fn twice_the_heat_capacity_takes_twice_as_long(changes in closed()) {
        let of = settings(&Vessel, &changes);
        let (mass, vessel) = (of.get("water_mass") / 2.0, of.get("vessel_capacity") / 2.0);
        prop_assume!(mass >= 0.05);
        let half = with(&changes, &[("water_mass", mass), ("vessel_capacity", vessel)]);
        let (whole, half) = (run(&Vessel, &changes, &[1800.0]), run(&Vessel, &half, &[900.0]));
        let [whole, half] = [&whole, &half].map(|run| column(&Vessel, run, "water_temperature")[0]);
        prop_assert!((whole - half).abs() < 1e-6, "{whole} and {half}");
    }

    #[test]
    fn a_thicker_layer_loses_less(t in 0.0..0.04f64, k in 0.02..1.5f64, h in 4.0..25.0f64, more in 0.001..0.01f64) {
        let loss = |thickness| Wall { area: 0.03, film: h, thickness, conductivity: k }.loss_per_kelvin();
        prop_assert!(loss(t + more) < loss(t));
        // What a layer lets through is less than what it would let through with its surface as cold as the room.
        prop_assert!(loss(t + more) < 0.03 * k / (t + more));
        // Each further layer of the same thickness saves less.
        prop_assert!(loss(t) - loss(t + more) > loss(t + more) - loss(t + 2.0 * more));
    }

    #[test]
    fn cooling_never_passes_the_room(changes in closed()) {
        let room = settings(&Vessel, &changes).get("room_temperature");
        let at: Vec<f64> = (0..13).map(|row| f64::from(row) * 600.0).collect();
        let run = run(&Vessel, &changes, &at);
        let water = column(&Vessel, &run, "water_temperature");
        prop_assert!(water.windows(2).all(|pair| pair[1] <= pair[0] + 1e-9));
        prop_assert!(water.iter().all(|&t| t >= room - 1e-6), "{water:?}");
        let sensor = column(&Vessel, &run, "probe_temperature");
        prop_assert!(sensor.iter().zip(water).all(|(sensor, water)| sensor >= &(water - 1e-7)));
    }

    #[test]
    fn the_ledger_of_four_vessels_closes(end in 1.0..7200.0f64, t in 0.0..0.05f64, k in 0.02..1.5f64) {
        let run = run(&InsulatedVessels, &[("thickness_2", t), ("conductivity_2", k)], &[end]);
        let energy = run.energy.expect("heat flows");
        prop_assert!(energy.residual().abs() <= 1e-6 * energy.lost, "{energy:?}");
    }
}

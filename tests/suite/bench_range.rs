//! What must hold on the pumped loop wherever its model holds.

use labquire::bench::{Bench, BenchError, Lamp, PumpedLoop, Run};
use proptest::{prelude::*, sample::select};

use crate::bench::{column, limit, settings};

type Changes = Vec<(&'static str, f64)>;

fn run(changes: &Changes, at: &[f64]) -> Result<Run, BenchError> {
    PumpedLoop.run(&settings(changes), at)
}

fn value(changes: &Changes, name: &str) -> f64 {
    settings(changes).get(name)
}

fn changed(base: &Changes, change: (&'static str, f64)) -> Changes {
    base.iter().copied().chain([change]).collect()
}

/// Power of the lamp that gives an irradiance (W/m²) in the middle of other settings.
fn power_for(light: f64, changes: &Changes) -> f64 {
    let of = |name| value(changes, name);
    let one_watt = Lamp {
        power: 1.0,
        radiant_share: of("lamp_radiant_share"),
        gain: of("lamp_gain"),
        source_offset: of("lamp_source_offset"),
        evenness: of("lamp_evenness"),
        warm_up: 0.0,
    };
    light / one_watt.irradiance(of("lamp_distance"))
}

/// Every input over its whole range, some at an end of it. The lamp's power follows from a light of 100 to 1500 W/m², as
/// most lamps of the range would boil the water; what the bench refuses is drawn again.
fn any() -> impl Strategy<Value = Changes> {
    let inputs = PumpedLoop.inputs();
    let share = prop_oneof![8 => 0.0..=1.0f64, 1 => select(vec![0.0, 1.0])];
    let drawn = (prop::collection::vec(share, inputs.len()), 100.0..1500.0f64);
    drawn.prop_filter_map("refused by the bench", |(shares, light)| {
        let inputs = PumpedLoop.inputs().iter().zip(shares);
        let drawn = inputs.map(|(input, share)| (input.name, input.valid.0 + share * (input.valid.1 - input.valid.0)));
        let drawn = drawn.collect();
        let drawn = changed(&drawn, ("lamp_power", power_for(light, &drawn)));
        run(&drawn, &[0.0, 60.0, 600.0]).is_ok().then_some(drawn)
    })
}

/// As [`any`], from a start at the temperature of the room.
fn warming() -> impl Strategy<Value = Changes> {
    any().prop_map(|drawn| changed(&drawn, ("start_excess", 0.0)))
}

/// Seconds until lamp and plate no longer hold the water back. The plate's own time constant is at most `C_p / K`, with
/// K from the transfer and twice the stream in series; a two-node curve bends once, within some of these.
fn settling(changes: &Changes) -> f64 {
    let of = |name| value(changes, name);
    let coupling = 1.0 / (1.0 / of("plate_transfer") + 1.0 / (2.0 * 4.18 * of("flow")));
    8.0 * of("plate_capacity") / coupling + 10.0 * of("lamp_warm_up")
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 64, max_local_rejects: 1_000_000, ..ProptestConfig::default() })]

    #[test]
    fn the_ledger_closes(changes in any(), end in 1.0..7200.0f64) {
        let run = run(&changes, &[0.0, end]);
        prop_assume!(run.is_ok());
        let energy = run.expect("in range").energy.expect("heat flows");
        // Until a lamp without a pump is warm there is next to nothing supplied to compare with.
        let scale = energy.supplied.max(energy.lost.abs()).max(energy.stored.abs());
        prop_assert!(energy.residual().abs() <= 1e-6 * scale, "{energy:?}");
    }

    #[test]
    fn half_the_tolerance_changes_nothing(changes in any()) {
        let at: Vec<f64> = (0..16).map(|row| f64::from(row) * 240.0).collect();
        let usual = run(&changes, &at);
        prop_assume!(usual.is_ok());
        let finer = PumpedLoop.run_with_tolerance(&settings(&changes), &at, 0.5).expect("as before");
        for (one, other) in usual.expect("in range").columns.iter().flatten().zip(finer.columns.iter().flatten()) {
            // States are promised within 1e-6 of their size; between its steps the solver is off by some 1e-6 K at its worst.
            prop_assert!((one - other).abs() < 1e-6 * one.abs().max(10.0), "{one} and {other}");
        }
    }

    #[test]
    fn warming_never_passes_the_limit(changes in warming()) {
        let at: Vec<f64> = (0..61).map(|row| f64::from(row) * 60.0).collect();
        let run = run(&changes, &at).expect("cooler than before");
        for state in ["water_temperature", "plate_temperature", "outlet_temperature"] {
            let (column, limit) = (column(&run, state), limit(&run, state));
            prop_assert!(column.iter().all(|&t| t <= limit + 1e-6), "{state}: {column:?} towards {limit}");
        }
    }

    #[test]
    fn the_curve_is_steepest_at_the_start(changes in warming()) {
        let begin = settling(&changes);
        let at: Vec<f64> = (0..31).map(|row| begin + f64::from(row) * 60.0).collect();
        let run = run(&changes, &at).expect("cooler than before");
        let steps: Vec<f64> = column(&run, "water_temperature").windows(2).map(|pair| pair[1] - pair[0]).collect();
        prop_assert!(steps.windows(2).all(|pair| pair[1] <= pair[0] + 1e-8), "{begin} s, then {steps:?}");
    }

    #[test]
    fn useful_power_falls_as_the_water_warms(changes in warming()) {
        let of = |name| value(&changes, name);
        // In the slow mode of two coupled stores the heat passed on falls if the outer one, the plate, would cool faster
        // alone than the vessel alone; else it grows while the plate still fills itself.
        let plate_alone = of("plate_area") * of("loss_linear") / of("plate_capacity");
        let vessel_alone = of("vessel_loss") / (4180.0 * of("water_mass") + of("vessel_capacity"));
        prop_assume!(plate_alone > 1.05 * vessel_alone);
        let begin = settling(&changes);
        let at: Vec<f64> = (0..31).map(|row| begin + f64::from(row) * 60.0).collect();
        let run = run(&changes, &at).expect("cooler than before");
        let useful = column(&run, "useful_power");
        prop_assert!(useful.windows(2).all(|pair| pair[1] <= pair[0] + 1e-6), "{useful:?}");
    }

    #[test]
    fn more_light_means_a_higher_limit(changes in any(), share in 0.3..0.98f64) {
        let of = |power| run(&changed(&changes, ("lamp_power", power)), &[]);
        let power = value(&changes, "lamp_power");
        prop_assume!(share * power >= 20.0);
        let (dim, bright) = (of(share * power).expect("cooler"), of(power).expect("in range"));
        for state in ["water_temperature", "plate_temperature", "outlet_temperature"] {
            prop_assert!(limit(&dim, state) < limit(&bright, state), "{state}");
        }
    }

    #[test]
    fn more_flow_means_a_smaller_rise_across_the_collector(changes in warming(), few in 1.0..5.0f64) {
        let at = settling(&changes);
        let of = |flow| run(&changed(&changes, ("flow", flow)), &[0.0, at]);
        let (Ok(few), Ok(many)) = (of(few), of(2.0 * few)) else { return Ok(()) };
        // Once the pump keeps the water warmer than the plate, the water is cooled on its way.
        prop_assume!(column(&few, "useful_power")[1] > 0.0 && column(&many, "useful_power")[1] > 0.0);
        let rise = |run: &Run| column(run, "outlet_temperature")[1] - column(run, "water_temperature")[1];
        prop_assert!(rise(&many) < rise(&few), "{} and {}", rise(&many), rise(&few));
    }

    #[test]
    fn what_is_refused_as_too_hot_is_too_hot(changes in any(), factor in 1.0..20.0f64) {
        let low = PumpedLoop.inputs().iter().find(|input| input.name == "loss_linear").expect("an input").valid.0;
        let loss = (value(&changes, "loss_linear") / factor).max(low);
        match run(&changed(&changes, ("loss_linear", loss)), &[0.0, 60.0]) {
            Ok(run) => prop_assert!(limit(&run, "water_temperature") <= 95.0 && limit(&run, "outlet_temperature") <= 95.0),
            Err(BenchError::TooHot { limit, .. }) => prop_assert!(limit > 95.0 && limit < 2000.0, "{limit}"),
            Err(other) => prop_assert!(false, "{other}"),
        }
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 16, max_local_rejects: 1_000_000, ..ProptestConfig::default() })]

    #[test]
    fn a_long_run_ends_at_the_algebraic_limit(changes in any()) {
        // Twenty times the slowest time constant that water, vessel and plate can have together.
        let capacity = 4220.0 * value(&changes, "water_mass") + value(&changes, "vessel_capacity")
            + value(&changes, "plate_capacity");
        let run = run(&changes, &[20.0 * capacity / value(&changes, "vessel_loss")]).expect("in range");
        for limit in &run.limits {
            let end = column(&run, limit.state)[0];
            prop_assert!((end - limit.value).abs() < 1e-4, "{}: {end} against {}", limit.state, limit.value);
        }
    }
}

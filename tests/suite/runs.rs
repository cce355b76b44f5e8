//! Runs of any bench. In: a bench, changed settings. Out: columns by name. It must hide no error.

use labquire::bench::{Bench, BenchError, Run, Settings};
use proptest::{prelude::*, sample::select};

/// Settings of a bench that differ from its own ones.
pub(crate) fn settings(bench: &dyn Bench, changes: &[(&str, f64)]) -> Settings {
    let mut settings = Settings::defaults(bench);
    for (name, value) in changes {
        settings.set(name, *value).expect("an input of the bench");
    }
    settings
}

pub(crate) fn run(bench: &dyn Bench, changes: &[(&str, f64)], at: &[f64]) -> Result<Run, BenchError> {
    bench.run(&settings(bench, changes), at)
}

/// A column of a run that must succeed.
pub(crate) fn column(bench: &dyn Bench, changes: &[(&str, f64)], at: &[f64], id: &str) -> Vec<f64> {
    let run = run(bench, changes, at).unwrap_or_else(|error| panic!("{}: {error}", bench.id()));
    pick(bench, &run, id).to_vec()
}

/// A column of a run.
pub(crate) fn pick<'a>(bench: &dyn Bench, run: &'a Run, id: &str) -> &'a [f64] {
    let place = bench.states().iter().position(|state| state.id == id);
    &run.columns[place.expect("a state of the bench")]
}

/// Every input of a bench over its whole range, some at an end of it.
pub(crate) fn any(bench: &'static dyn Bench) -> impl Strategy<Value = Vec<(&'static str, f64)>> {
    let share = prop_oneof![8 => 0.0..=1.0f64, 1 => select(vec![0.0, 1.0])];
    prop::collection::vec(share, bench.inputs().len()).prop_map(move |shares| {
        let inputs = bench.inputs().iter().zip(shares);
        inputs.map(|(input, share)| (input.name, input.valid.0 + share * (input.valid.1 - input.valid.0))).collect()
    })
}

/// The changes with one more.
pub(crate) fn changed(base: &[(&'static str, f64)], change: (&'static str, f64)) -> Vec<(&'static str, f64)> {
    base.iter().copied().chain([change]).collect()
}

/// The value of an input under changes.
pub(crate) fn value(bench: &dyn Bench, changes: &[(&str, f64)], name: &str) -> f64 {
    settings(bench, changes).get(name)
}

/// The settings of a row of a reference table: `name=value` joined by semicolons.
pub(crate) fn changes(text: &str) -> Vec<(&str, f64)> {
    let pairs = text.split(';').filter(|part| !part.is_empty());
    pairs
        .map(|part| {
            part.split_once('=').map(|(name, value)| (name, value.parse().expect("a number"))).expect("name=value")
        })
        .collect()
}

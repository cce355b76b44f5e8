//! Benches with a circuit against independent solutions; helpers for the tests of these benches.

use labquire::bench::{self, Bench, BenchError, Run, Settings};

use crate::reference::{assert_near, number, rows};

/// Runs a bench with settings that differ from its own ones.
pub(crate) fn run(bench: &dyn Bench, changes: &[(&str, f64)], at: &[f64]) -> Result<Run, BenchError> {
    let mut settings = Settings::defaults(bench);
    for (name, value) in changes {
        settings.set(name, *value).expect("an input of the bench");
    }
    bench.run(&settings, at)
}

/// A column of a run of a bench.
pub(crate) fn column<'a>(bench: &dyn Bench, run: &'a Run, id: &str) -> &'a [f64] {
    let place = bench.states().iter().position(|state| state.id == id);
    &run.columns[place.unwrap_or_else(|| panic!("{id} is no state of {}", bench.id()))]
}

fn compare(file: &str, tolerance: f64) {
    for row in rows(file) {
        let bench = bench::find(&row[0]).expect("a bench");
        let changes: Vec<(&str, f64)> = row[1]
            .split(';')
            .map(|part| part.split_once('=').map(|(name, value)| (name, number(value))).expect("name=value"))
            .collect();
        assert_eq!(changes.len(), bench.inputs().len(), "{file} gives every input of {}", bench.id());
        let (at, wanted) = (number(&row[2]), number(&row[4]));
        let run = run(bench, &changes, &[at]).expect("settings in range");
        let limit = |id: &str| run.limits.iter().find(|limit| limit.state == id).expect("a limit").value;
        let found = match row[3].as_str() {
            "supplied" => run.energy.expect("heat flows").supplied,
            "lost" => run.energy.expect("heat flows").lost,
            "hot_limit" => limit("hot_temperature"),
            "cold_limit" => limit("cold_temperature"),
            state => column(bench, &run, state)[0],
        };
        assert_near(found, wanted, tolerance, &format!("{} of {} at {at} with {}", row[3], row[0], row[1]));
    }
}

/// Source: scipy `solve_ivp` (DOP853 at rtol 1e-12, confirmed by Radau) and `fsolve` on the documented equations,
/// tests/reference/module_stores.py.
#[test]
fn a_module_between_stores_agrees_with_an_independent_integration() {
    compare("module_stores.csv", 1e-7);
}

/// Source: node potentials by numpy, scipy `brentq` and `fsolve` on the documented equations, tests/reference/circuits.py.
#[test]
fn steady_circuits_agree_with_independent_solutions() {
    compare("circuits.csv", 1e-9);
}

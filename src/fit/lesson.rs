//! What a fitted bench means for a lesson. In: an experiment and settings. Out: limit, and the times to 63 % and 95 % of the way to it.
//! It must give nothing where the bench tends to no limit.

use crate::{
    bench::Settings,
    experiment::{Experiment, plan::ReadQuantity},
};

/// Rows of a run that is looked through.
const ROWS: u32 = 2000;
/// How many times the schedule's end a run is looked at, at most.
const LONGEST: f64 = 64.0;

/// How a column tends to its limit.
#[derive(Debug, Clone, PartialEq)]
pub struct Lesson {
    /// The column's id.
    pub column: String,
    /// The limit, in the column's unit.
    pub limit: f64,
    /// Where 63.2 % of the way are gone, in the schedule's unit.
    pub to_63: Option<f64>,
    /// Where 95 % are.
    pub to_95: Option<f64>,
}

/// The first column of the table that tends to a limit.
pub fn lesson(experiment: &Experiment, settings: &Settings) -> Option<Lesson> {
    let schedule = &experiment.schedule;
    let end = schedule.values.value(schedule.values.count - 1);
    let mut longest = end;
    let mut best = None;
    while longest <= LONGEST * end {
        let grid: Vec<f64> = (0..=ROWS).map(|row| longest * f64::from(row) / f64::from(ROWS)).collect();
        let at: Vec<f64> = grid.iter().map(|&at| schedule.bench_unit.from_si(schedule.unit.to_si(at))).collect();
        let run = experiment.bench.run(settings, &at).ok()?;
        let states = experiment.bench.states();
        let column = experiment
            .columns
            .iter()
            .find(|column| run.limits.iter().any(|one| one.state == states[column.state].id))?;
        let unit = |state: f64| column.unit.from_si(column.state_unit.to_si(state));
        let limit = unit(run.limits.iter().find(|one| one.state == states[column.state].id)?.value);
        let values: Vec<f64> = run.columns[column.state].iter().copied().map(unit).collect();
        let found = lesson_of(column, limit, &grid, &values);
        let done = found.to_95.is_some();
        best = Some(found);
        if done {
            break;
        }
        longest *= 2.0;
    }
    best
}

fn lesson_of(column: &ReadQuantity, limit: f64, grid: &[f64], values: &[f64]) -> Lesson {
    let start = values.first().copied().unwrap_or(limit);
    let gone = |value: f64| if limit == start { 1.0 } else { (value - start) / (limit - start) };
    let reach = |share: f64| {
        let at = values.iter().position(|&value| gone(value) >= share)?;
        let Some(before) = at.checked_sub(1) else { return Some(grid[0]) };
        let (low, high) = (gone(values[before]), gone(values[at]));
        let part = if high > low { (share - low) / (high - low) } else { 1.0 };
        Some(grid[before] + part * (grid[at] - grid[before]))
    };
    Lesson { column: column.id.clone(), limit, to_63: reach(1.0 - libm::exp(-1.0)), to_95: reach(0.95) }
}

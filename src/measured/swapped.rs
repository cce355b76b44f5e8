//! Columns under each other's heads. In: a run and its experiment. Out: two columns that fit the bench far better when they are
//! swapped. It must not swap them: only who read them knows.

use super::{MeasuredRun, rows::named, settings};
use crate::{
    experiment::{Experiment, plan::ReadQuantity},
    report::Problem,
};

/// By how much the fit must gain.
const GAIN: f64 = 4.0;
/// Misfits below so many limits of error are nobody's fault.
const LIMITS: f64 = 5.0;

/// The first two columns of one unit that look swapped.
pub fn swapped(experiment: &Experiment, run: &MeasuredRun) -> Option<Problem> {
    let schedule = &experiment.schedule;
    let rows: Vec<_> = run.rows.iter().filter(|row| row.whole().is_some()).collect();
    let at: Vec<f64> = rows.iter().map(|row| schedule.bench_unit.from_si(schedule.unit.to_si(row.at.value))).collect();
    let bench = experiment.bench.run(&settings(experiment, &run.told).ok()?, &at).ok()?;
    let expected = |column: &ReadQuantity| -> Vec<f64> {
        bench.columns[column.state].iter().map(|&state| column.unit.from_si(column.state_unit.to_si(state))).collect()
    };
    let read = |place: usize| -> Vec<f64> {
        rows.iter().filter_map(|row| Some(row.cells.get(place)?.as_ref()?.value)).collect()
    };
    let misfit = |read: &[f64], expected: &[f64]| {
        let squares: f64 = read.iter().zip(expected).map(|(read, expected)| (read - expected).powi(2)).sum();
        (squares / read.len().max(1) as f64).sqrt()
    };
    let columns = experiment.columns.iter().enumerate();
    let pairs = columns.clone().flat_map(|one| columns.clone().skip(one.0 + 1).map(move |other| (one, other)));
    pairs.filter(|((_, one), (_, other))| one.unit == other.unit).find_map(|((a, one), (b, other))| {
        let (read_a, read_b, of_a, of_b) = (read(a), read(b), expected(one), expected(other));
        let as_read = misfit(&read_a, &of_a) + misfit(&read_b, &of_b);
        let as_swapped = misfit(&read_a, &of_b) + misfit(&read_b, &of_a);
        let limit = LIMITS * (one.instrument.limit + other.instrument.limit);
        (as_read > GAIN * as_swapped && as_read > limit).then(|| {
            let message = format!("the columns `{}` and `{}` of {} look swapped", one.id, other.id, named(&run.who));
            let problem = Problem::error(message).at(run.place.clone()).label("this run");
            problem.hint("swap their heads; the bench gives such readings the other way round")
        })
    })
}

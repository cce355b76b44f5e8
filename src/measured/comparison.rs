//! A real run against its bench. In: what was read. Out: what the bench gives at the same places, how far both are apart, and which
//! likely causes hold. It must blame nobody: causes are the definition's, their order its own.

use super::settings;
use crate::{
    experiment::{Experiment, OF_BENCH},
    formula::{self, Value},
    quantity::rounding,
    variant::{Known, Variant},
};

/// Places of the bench's curve.
const PLACES: u32 = 60;
/// A run agrees with its bench within so many limits of error of the instrument, and this share of what the bench covers
/// (common practice, no source).
const LIMITS: f64 = 2.0;
const SHARE: f64 = 0.04;

/// A run beside its bench.
#[derive(Debug, Clone, PartialEq)]
pub struct Comparison {
    /// The columns of the experiment, in order.
    pub columns: Vec<ComparedColumn>,
    /// Places of the bench's curves, in the schedule's unit.
    pub places: Vec<f64>,
    /// Whether both agree.
    pub agrees: bool,
    /// Likely causes that hold, by their place in the definition; none where both agree.
    pub causes: Vec<usize>,
}

/// A column beside the bench's.
#[derive(Debug, Clone, PartialEq)]
pub struct ComparedColumn {
    /// Its id.
    pub id: String,
    /// The bench's curve at the places, in the column's unit.
    pub curve: Vec<f64>,
    /// Root mean square of reading less bench, in the column's unit.
    pub misfit: f64,
}

/// A run beside the experiment's bench; nothing where the bench can't run so.
pub fn compare(experiment: &Experiment, variant: &Variant) -> Option<Comparison> {
    let schedule = &experiment.schedule;
    let settings = settings(experiment, &variant.told).ok()?;
    let read = &variant.table.column(&schedule.id)?.values;
    let bench_at = |at: &f64| schedule.bench_unit.from_si(schedule.unit.to_si(*at));
    let (first, last) = (*read.first()?, *read.last()?);
    let places: Vec<f64> = (0..=PLACES)
        .map(|place| rounding::to_places(first + (last - first) * f64::from(place) / f64::from(PLACES), 9).value)
        .collect();
    let at_rows = experiment.bench.run(&settings, &read.iter().map(bench_at).collect::<Vec<_>>()).ok()?;
    let along = experiment.bench.run(&settings, &places.iter().map(bench_at).collect::<Vec<_>>()).ok()?;
    let mut known = Known::of(experiment, variant);
    let mut columns = Vec::new();
    let mut agrees = true;
    for column in &experiment.columns {
        let unit = |states: &[f64]| -> Vec<f64> {
            states.iter().map(|&state| column.unit.from_si(column.state_unit.to_si(state))).collect()
        };
        let (bench, curve) = (unit(&at_rows.columns[column.state]), unit(&along.columns[column.state]));
        let own = &variant.table.column(&column.id)?.values;
        let squares: f64 = own.iter().zip(&bench).map(|(own, bench)| (own - bench).powi(2)).sum();
        let misfit = libm::sqrt(squares / own.len().max(1) as f64);
        let (low, high) =
            curve.iter().fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), &one| (low.min(one), high.max(one)));
        let largest = own.iter().fold(0.0_f64, |most, one| most.max(one.abs()));
        let instrument = &column.instrument;
        let limit = instrument.limit + instrument.limit_share * largest + instrument.resolution;
        agrees &= misfit <= LIMITS * limit + SHARE * (high - low);
        let si = bench.iter().map(|&value| column.unit.to_si(value)).collect();
        known.add(&format!("{OF_BENCH}{}", column.id), Value::column(si));
        columns.push(ComparedColumn { id: column.id.clone(), curve, misfit });
    }
    let holds = |place: &usize| formula::holds(&experiment.causes[*place], &known).unwrap_or(false);
    let causes = if agrees { Vec::new() } else { (0..experiment.causes.len()).filter(holds).collect() };
    Some(Comparison { columns, places, agrees, causes })
}

//! Runs as a fit sees them. In: runs as they were read. Out: settings, places and readings with their repeatabilities, in the
//! units of the readings. It must leave out nothing that was read.

use super::FitFailure;
use crate::{
    bench::{BenchError, Input, Run, Settings},
    experiment::{Experiment, plan::ReadQuantity},
    measured::{self, MeasuredRun},
    variant::Stated,
};

/// A run.
#[derive(Clone)]
pub(super) struct FitRun<'a> {
    /// Whose it is.
    pub(super) who: &'a str,
    /// What is known of the bench, the inputs to be found apart.
    pub(super) settings: Settings,
    /// What was noted.
    pub(super) told: &'a [Stated],
    /// Where rows were read, in the unit of the bench's variable.
    pub(super) at: Vec<f64>,
    /// The readings.
    pub(super) series: Vec<Series<'a>>,
}

/// The readings of one quantity in one run.
#[derive(Clone)]
pub(super) struct Series<'a> {
    pub(super) quantity: &'a ReadQuantity,
    /// Rows that were read, by their place.
    pub(super) rows: Vec<usize>,
    /// Readings in the quantity's unit, as many.
    pub(super) read: Vec<f64>,
    /// What each is weighted with, in that unit.
    pub(super) standard: f64,
    /// Whether it was read once.
    pub(super) once: bool,
}

impl<'a> FitRun<'a> {
    pub(super) fn of(experiment: &'a Experiment, run: &'a MeasuredRun) -> Result<Self, FitFailure> {
        let schedule = &experiment.schedule;
        let settings = measured::settings(experiment, &run.told).map_err(FitFailure::Bench)?;
        let at = run.rows.iter().map(|row| schedule.bench_unit.from_si(schedule.unit.to_si(row.at.value))).collect();
        let columns = experiment.columns.iter().enumerate().map(|(place, quantity)| {
            let readings = run.rows.iter().enumerate();
            let (rows, read) =
                readings.filter_map(|(row, one)| Some((row, one.cells.get(place)?.as_ref()?.value))).unzip();
            Series { quantity, rows, read, standard: quantity.instrument.repeatability(), once: false }
        });
        // What sets an input is known; where the input is to be found all the same, it is one more reading of it.
        let inputs: Vec<&str> = set_by_reading(experiment).map(|(once, _)| once.id.as_str()).collect();
        let once = experiment.once.iter().filter(|once| !inputs.contains(&once.id.as_str())).filter_map(|quantity| {
            let value = run.told.iter().find(|stated| stated.id == quantity.id)?.value;
            Some(Series { quantity, rows: vec![0], read: vec![value], standard: single(quantity, value), once: true })
        });
        let series = columns.chain(once).filter(|series| !series.read.is_empty()).collect();
        Ok(Self { who: &run.who, settings, told: &run.told, at, series })
    }

    /// The bench with these values of inputs.
    pub(super) fn run(&self, experiment: &Experiment, values: &[(&str, f64)]) -> Result<Run, BenchError> {
        let mut settings = self.settings.clone();
        for (name, value) in values {
            settings.set(name, *value)?;
        }
        experiment.bench.run(&settings, &self.at)
    }
}

impl Series<'_> {
    /// What the bench gives in the rows that were read, in the quantity's unit.
    pub(super) fn model(&self, run: &Run) -> Vec<f64> {
        let states = &run.columns[self.quantity.state];
        let unit = |state: f64| self.quantity.unit.from_si(self.quantity.state_unit.to_si(state));
        self.rows.iter().map(|&row| states.get(row).copied().map_or(f64::NAN, unit)).collect()
    }
}

/// Quantities read once that set an input which is not to be found.
pub(super) fn set_by_reading(experiment: &Experiment) -> impl Iterator<Item = (&ReadQuantity, &'static Input)> {
    let sought = |input: &Input| experiment.fittable.iter().any(|plan| plan.input.name == input.name);
    experiment.read_inputs().filter(move |(_, input)| !sought(input))
}

/// Standard uncertainty of a single reading: class limit, taken as even (JCGM 100:2008, 4.3.7), noise and resolution.
fn single(quantity: &ReadQuantity, value: f64) -> f64 {
    let instrument = &quantity.instrument;
    let limit = (instrument.limit + instrument.limit_share * value.abs()) / libm::sqrt(3.0);
    libm::sqrt(limit * limit + instrument.repeatability().powi(2))
}

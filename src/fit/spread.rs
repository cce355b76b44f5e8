//! How far fitted inputs may be off. In: a fit's residuals and slopes, the instruments. Out: standard uncertainties, correlation and
//! 95 % intervals. It must not use the true values of anything.
//!
//! From noise: `s² (JᵀJ)⁻¹` with the residuals' own variance, as for any least squares. Where neighbouring residuals go together, as
//! those of a slow logger's last digit do, there are fewer independent ones than readings: the variance grows by
//! `(1 + r) / (1 − r)` with their correlation r (Bartlett 1946, from memory). From instruments: the offset of each lies evenly within
//! its class limit (JCGM 100:2008, 4.3.7) and moves all its readings, and the settings read with it, by the same; what that does to
//! an input follows to first order. From what nobody reads: a quantity that is drawn, not told, not read and not to be found lies
//! evenly within its range. All together by draws (JCGM 101:2008). An input that is held counts as known.

use indexmap::IndexSet;
use nalgebra::{DMatrix, DVector};
use rand::RngExt;
use rand_distr::{Distribution, StandardNormal, StudentT};

use super::{
    problem::Problem,
    runs::{FitRun, set_by_reading},
    search::searched,
};
use crate::{draw::Seed, experiment::Experiment, uncertainty::Interval};

/// Draws for the ends of an interval.
const DRAWS: usize = 20_000;
/// Readings below which their correlation can't be told from chance.
const LEAST_FOR_CORRELATION: usize = 30;

/// What the found inputs may be off by.
pub(super) struct Spread {
    /// Standard uncertainty from noise alone, as any least-squares program states it.
    pub(super) noise: Vec<f64>,
    /// Standard uncertainty from everything.
    pub(super) standard: Vec<f64>,
    /// The 95 % interval, as distances below and above.
    pub(super) interval: Vec<(f64, f64)>,
    /// Correlation from noise.
    pub(super) correlation: Vec<Vec<f64>>,
    /// Standard deviation of the weighted residuals: 1 where the instruments explain them.
    pub(super) scatter: f64,
    /// Readings less inputs.
    pub(super) freedom: usize,
    /// Correlation of neighbouring residuals.
    pub(super) lag: f64,
}

impl Spread {
    /// Nothing where the readings do not tell the inputs apart at all.
    pub(super) fn of(problem: &Problem<'_>, values: &[f64]) -> Option<Self> {
        let residuals = problem.weighted(values).ok()?;
        let slopes = problem.slopes(values).ok()?;
        let inverse = (slopes.transpose() * &slopes).try_inverse()?;
        let freedom = residuals.len().checked_sub(values.len()).filter(|&freedom| freedom > 0)?;
        let scatter = libm::sqrt(residuals.iter().map(|one| one * one).sum::<f64>() / freedom as f64);
        let lag = lag(problem.runs, &residuals);
        let count = values.len();
        let diagonal = |at: usize| libm::sqrt(inverse[(at, at)]);
        let noise: Vec<f64> = (0..count).map(|at| scatter * diagonal(at)).collect();
        let correlation = (0..count)
            .map(|one| (0..count).map(|other| inverse[(one, other)] / (diagonal(one) * diagonal(other))).collect())
            .collect();
        let moved = &inverse * slopes.transpose();
        let effects: Vec<Effect> = effects(problem, values, &residuals, &moved);
        let inflation = libm::sqrt((1.0 + lag) / (1.0 - lag));
        let mut standard = Vec::new();
        let mut interval = Vec::new();
        for (place, noise) in noise.iter().enumerate() {
            let draws = draws(noise * inflation, freedom, &effects, place);
            let Interval { standard: found, low, high, .. } = Interval::of(draws)?;
            standard.push(found);
            interval.push((low, high));
        }
        Some(Self { noise, standard, interval, correlation, scatter, freedom, lag })
    }
}

/// What one cause does to all inputs.
struct Effect {
    /// By the cause at its upper end, or one standard deviation above.
    above: DVector<f64>,
    /// By the cause at its lower end, or one standard deviation below.
    below: DVector<f64>,
    /// Evenly within both ends, else normal.
    even: bool,
}

impl Effect {
    fn moved(&self, draw: f64, place: usize) -> f64 {
        if draw < 0.0 { -draw * self.below[place] } else { draw * self.above[place] }
    }
}

/// Draws of the deviation of one input.
fn draws(noise: f64, freedom: usize, effects: &[Effect], place: usize) -> Vec<f64> {
    let mut stream = Seed { set: "bench fit", student: "", attempt: 0 }.stream("deviation");
    // The scatter itself is known from a few readings only.
    let student = StudentT::new(freedom as f64).ok();
    (0..DRAWS)
        .map(|_| {
            let own: f64 = match &student {
                Some(law) => law.sample(&mut stream),
                None => StandardNormal.sample(&mut stream),
            };
            let rest = effects.iter().map(|effect| {
                let draw: f64 =
                    if effect.even { stream.random::<f64>() * 2.0 - 1.0 } else { StandardNormal.sample(&mut stream) };
                effect.moved(draw, place)
            });
            noise * own + rest.sum::<f64>()
        })
        .collect()
}

/// What the offsets of instruments, and the noise of settings that are read, do to the inputs.
fn effects(problem: &Problem<'_>, values: &[f64], residuals: &[f64], moved: &DMatrix<f64>) -> Vec<Effect> {
    let experiment = problem.experiment;
    let mut found: Vec<Effect> = Vec::new();
    let change = |shifted: Vec<f64>| -> DVector<f64> {
        let change = shifted.iter().zip(residuals).map(|(new, old)| new - old);
        -(moved * DVector::from_iterator(residuals.len(), change))
    };
    let straight = |shifted: Vec<f64>, even: bool| {
        let above = change(shifted);
        Effect { below: -&above, above, even }
    };
    let instruments: IndexSet<&str> =
        experiment.columns.iter().chain(&experiment.once).map(|one| one.instrument_name.as_str()).collect();
    for instrument in instruments {
        found.push(straight(shifted(problem, values, residuals, instrument), true));
    }
    for (once, input) in set_by_reading(experiment) {
        for run in 0..problem.runs.len() {
            let noise = once.instrument.repeatability() * once.unit.scale() / once.state_unit.scale();
            let with = |at: usize, one: &FitRun<'_>| {
                if at == run { one.settings.get(input.name) + noise } else { one.settings.get(input.name) }
            };
            found.push(straight(with_input(problem, values, input.name, &with), false));
        }
    }
    for drawn in &experiment.drawn {
        let name = drawn.input.name.as_str();
        let sought = experiment.fittable.iter().any(|plan| plan.input.name == name);
        if drawn.told || sought || is_read(experiment, name) {
            continue;
        }
        let width = f64::from(drawn.range.count - 1) * drawn.range.step;
        let half = width / 2.0 * drawn.unit.scale() / drawn.input.unit.scale();
        // The range is wide enough for the bend of the model to show: what is found is found again with each end.
        if let (Some(above), Some(below)) =
            (refitted(problem, values, name, half), refitted(problem, values, name, -half))
        {
            found.push(Effect { above, below, even: true });
        }
    }
    found
}

/// By how much the inputs found move where a setting of all runs lies elsewhere; nothing where the bench can't run so.
fn refitted(problem: &Problem<'_>, values: &[f64], name: &str, by: f64) -> Option<DVector<f64>> {
    let mut runs = problem.runs.to_vec();
    for run in &mut runs {
        let value = run.settings.get(name) + by;
        run.settings.set(name, value).ok()?;
    }
    let moved = Problem::new(problem.experiment, &runs, problem.sought.clone(), problem.held.clone(), values);
    moved.weighted(values).ok()?;
    let found = searched(moved).values();
    Some(DVector::from_iterator(values.len(), found.iter().zip(values).map(|(found, value)| found - value)))
}

/// Residuals with the offset of an instrument at the end of its class, in all readings and settings that it gave.
fn shifted(problem: &Problem<'_>, values: &[f64], residuals: &[f64], instrument: &str) -> Vec<f64> {
    let experiment = problem.experiment;
    let offset = |one: &crate::experiment::plan::ReadQuantity, value: f64| {
        one.instrument.limit + one.instrument.limit_share * value.abs()
    };
    let mut all = residuals.to_vec();
    for (once, input) in set_by_reading(experiment).filter(|(once, _)| once.instrument_name == instrument) {
        let scale = once.unit.scale() / once.state_unit.scale();
        let with = |_: usize, run: &FitRun<'_>| {
            let value = run.settings.get(input.name);
            let noted = run.told.iter().any(|stated| stated.id == once.id);
            if noted { value + scale * offset(once, value / scale) } else { value }
        };
        let moved = with_input(problem, values, input.name, &with);
        all.iter_mut().zip(moved).zip(residuals).for_each(|((slot, moved), old)| *slot += moved - old);
    }
    let series = problem.runs.iter().flat_map(|run| &run.series);
    let mut place = 0;
    for series in series {
        for read in &series.read {
            // Single readings carry their class limit in their weight.
            if series.quantity.instrument_name == instrument && !series.once {
                all[place] += offset(series.quantity, *read) / series.standard;
            }
            place += 1;
        }
    }
    all
}

/// Residuals with another value of a setting in each run.
fn with_input(problem: &Problem<'_>, values: &[f64], name: &str, with: &dyn Fn(usize, &FitRun<'_>) -> f64) -> Vec<f64> {
    let mut all = Vec::new();
    for (at, run) in problem.runs.iter().enumerate() {
        let names = problem.sought.iter().map(|plan| plan.input.name.as_str());
        let mut inputs: Vec<(&str, f64)> = problem.held.clone();
        inputs.extend(names.zip(values.iter().copied()));
        inputs.push((name, with(at, run)));
        let found = run.run(problem.experiment, &inputs);
        for series in &run.series {
            let model = match &found {
                Ok(found) => series.model(found),
                Err(_) => vec![f64::NAN; series.read.len()],
            };
            all.extend(series.read.iter().zip(model).map(|(read, model)| (read - model) / series.standard));
        }
    }
    all
}

/// The correlation of neighbouring residuals within columns, not below zero; zero for few readings.
fn lag(runs: &[FitRun<'_>], residuals: &[f64]) -> f64 {
    let (mut products, mut squares, mut place, mut count) = (0.0, 0.0, 0, 0);
    for series in runs.iter().flat_map(|run| &run.series) {
        let own = &residuals[place..place + series.read.len()];
        place += own.len();
        products += own.windows(2).map(|pair| pair[0] * pair[1]).sum::<f64>();
        squares += own.iter().map(|one| one * one).sum::<f64>();
        count += own.len();
    }
    let found = if squares > 0.0 { products / squares } else { 0.0 };
    // What chance alone gives in so many readings is no correlation.
    let chance = 2.0 / libm::sqrt(count.max(1) as f64);
    if count < LEAST_FOR_CORRELATION || found < chance { 0.0 } else { found.min(0.999) }
}

/// The inputs of an experiment that a run's readings set.
fn is_read(experiment: &Experiment, input: &str) -> bool {
    experiment.read_inputs().any(|(_, read)| read.name == input)
}

//! The search for a bench's inputs. In: an experiment and its runs. Out: the inputs found, those held, and the fitted curves. It must
//! give the same for the same runs, in whatever order the machine works.

use levenberg_marquardt::LevenbergMarquardt;

use super::{
    FitFailure, Verdict,
    held::{self, Because},
    problem::Problem,
    runs::FitRun,
    spread::Spread,
    verdict,
};
use crate::{
    bench::Settings,
    experiment::{Experiment, plan::FittablePlan},
    measured::MeasuredRun,
};

/// How often a search is taken up again from where it ended.
const MOST_SEARCHES: usize = 4;

/// A bench fitted to runs.
#[derive(Debug, Clone, PartialEq)]
pub struct BenchFit {
    /// Inputs that were found, the most important first.
    pub fitted: Vec<Fitted>,
    /// Inputs that the runs do not tell.
    pub held: Vec<Held>,
    /// Correlations of those found.
    pub correlation: Vec<Vec<f64>>,
    /// Standard deviation of the residuals over what instruments explain.
    pub scatter: f64,
    /// Correlation of neighbouring residuals.
    pub lag: f64,
    /// Readings less inputs found.
    pub freedom: usize,
    /// The runs with their curves.
    pub runs: Vec<FittedRun>,
    /// What to think of it.
    pub verdict: Verdict,
}

/// An input that was found.
#[derive(Debug, Clone, PartialEq)]
pub struct Fitted {
    /// Its name.
    pub input: String,
    /// Its value, in the input's unit.
    pub value: f64,
    /// Standard uncertainty from the scatter of the readings alone: `s √(JᵀJ)⁻¹`.
    pub noise: f64,
    /// Standard uncertainty, instruments' offsets included.
    pub standard: f64,
    /// The 95 % interval.
    pub interval: (f64, f64),
    /// Whether it lies at an end of what is sensible.
    pub at_end: bool,
}

/// An input that was held.
#[derive(Debug, Clone, PartialEq)]
pub struct Held {
    /// Its name.
    pub input: String,
    /// The value at which it was held, in the input's unit.
    pub value: f64,
    /// Why.
    pub because: Because,
}

/// A run with its fitted curve.
#[derive(Debug, Clone, PartialEq)]
pub struct FittedRun {
    /// Whose it is.
    pub who: String,
    /// Settings of the fitted bench.
    pub settings: Settings,
    /// Where rows were read, in the unit of the bench's variable.
    pub at: Vec<f64>,
    /// The columns of the table.
    pub columns: Vec<FittedColumn>,
}

/// A column of readings with what the fitted bench gives.
#[derive(Debug, Clone, PartialEq)]
pub struct FittedColumn {
    /// Its id.
    pub id: String,
    /// Places of the rows that were read.
    pub rows: Vec<usize>,
    /// Readings, in the column's unit.
    pub read: Vec<f64>,
    /// The bench's values there.
    pub model: Vec<f64>,
}

impl FittedColumn {
    /// Root mean square of reading less model, in the column's unit.
    pub fn misfit(&self) -> f64 {
        let squares: f64 = self.read.iter().zip(&self.model).map(|(read, model)| (read - model).powi(2)).sum();
        libm::sqrt(squares / self.read.len().max(1) as f64)
    }
}

/// Fits the inputs that the experiment calls fittable.
///
/// # Errors
/// A [`FitFailure`] where there is nothing to fit, or nothing to fit it to.
pub fn fit(experiment: &Experiment, runs: &[MeasuredRun]) -> Result<BenchFit, FitFailure> {
    let runs: Vec<FitRun<'_>> = runs.iter().map(|run| FitRun::of(experiment, run)).collect::<Result<_, _>>()?;
    let (Some(first), false) = (runs.first(), experiment.fittable.is_empty()) else {
        return Err(FitFailure::NothingToFit);
    };
    let start = |plan: &FittablePlan| first.settings.get(&plan.input.name).clamp(plan.within.0, plan.within.1);
    let mut sought: Vec<&FittablePlan> = experiment.fittable.iter().collect();
    let readings: usize = runs.iter().flat_map(|run| &run.series).map(|series| series.read.len()).sum();
    let mut held: Vec<Held> = Vec::new();
    let mut values: Vec<f64> = sought.iter().map(|plan| start(plan)).collect();
    let mut without = |sought: &mut Vec<&FittablePlan>, values: &mut Vec<f64>, place: usize, because: Because| {
        let plan = sought.remove(place);
        values.remove(place);
        held.push(Held { input: plan.input.name.clone(), value: start(plan), because });
        held.iter().map(|one| one.value).collect::<Vec<_>>()
    };
    let mut fixed: Vec<(&str, f64)> = Vec::new();
    loop {
        if sought.is_empty() {
            return Err(FitFailure::NothingTold);
        }
        if readings <= sought.len() {
            return Err(FitFailure::TooFew { found: readings, needed: sought.len() });
        }
        let problem = Problem::new(experiment, &runs, sought.clone(), fixed.clone(), &values);
        let slopes = problem.slopes(&problem.values()).map_err(FitFailure::Bench)?;
        // An input that moves no reading would make the search singular.
        let idle = (0..sought.len()).rev().find(|&place| slopes.column(place).norm() == 0.0);
        let next = match idle {
            Some(place) => Some((place, Because::Untold)),
            None => {
                let found = searched(problem);
                values = found.values();
                match Spread::of(&found, &values) {
                    None => Some((sought.len() - 1, Because::Untold)),
                    Some(spread) => match held::next(&found, &spread) {
                        Some(next) if sought.len() > 1 => Some(next),
                        _ => return Ok(result(&found, &values, spread, held)),
                    },
                }
            }
        };
        if let Some((place, because)) = next {
            fixed.push((sought[place].input.name.as_str(), start(sought[place])));
            without(&mut sought, &mut values, place, because);
            values = sought.iter().map(|plan| start(plan)).collect();
        }
    }
}

/// The search, taken up again until nothing is gained.
pub(super) fn searched(mut problem: Problem<'_>) -> Problem<'_> {
    let mut best = f64::INFINITY;
    for _ in 0..MOST_SEARCHES {
        let search = LevenbergMarquardt::new().with_ftol(1e-12).with_xtol(1e-12).with_gtol(0.0).with_patience(100);
        let (next, report) = search.minimize(problem);
        problem = next;
        let reached = report.objective_function;
        if !reached.is_finite() || reached >= best * (1.0 - 1e-9) {
            break;
        }
        best = reached;
    }
    problem
}

fn result(problem: &Problem<'_>, values: &[f64], spread: Spread, held: Vec<Held>) -> BenchFit {
    const AT_END: f64 = 1e-3;
    let fitted = problem.sought.iter().enumerate().map(|(place, plan)| {
        let (value, (from, to)) = (values[place], plan.within);
        let (low, high) = spread.interval[place];
        let margin = AT_END * (to - from);
        Fitted {
            input: plan.input.name.clone(),
            value,
            noise: spread.noise[place],
            standard: spread.standard[place],
            interval: (value + low, value + high),
            at_end: value < from + margin || value > to - margin,
        }
    });
    let names = problem.sought.iter().map(|plan| plan.input.name.as_str());
    let inputs: Vec<(&str, f64)> = problem.held.iter().copied().chain(names.zip(values.iter().copied())).collect();
    let runs = problem.runs.iter().filter_map(|run| curve(problem.experiment, run, &inputs)).collect();
    let mut found = BenchFit {
        fitted: fitted.collect(),
        held,
        correlation: spread.correlation,
        scatter: spread.scatter,
        lag: spread.lag,
        freedom: spread.freedom,
        runs,
        verdict: Verdict::default(),
    };
    found.verdict = verdict::verdict(&found);
    found
}

fn curve(experiment: &Experiment, run: &FitRun<'_>, inputs: &[(&str, f64)]) -> Option<FittedRun> {
    let mut settings = run.settings.clone();
    for (name, value) in inputs {
        settings.set(name, *value).ok()?;
    }
    let found = experiment.bench.run(&settings, &run.at).ok()?;
    let columns = run.series.iter().filter(|series| !series.once).map(|series| FittedColumn {
        id: series.quantity.id.clone(),
        rows: series.rows.clone(),
        read: series.read.clone(),
        model: series.model(&found),
    });
    Some(FittedRun { who: run.who.to_owned(), settings, at: run.at.clone(), columns: columns.collect() })
}

//! The least-squares problem of a fit. In: runs and the inputs to be found. Out: residuals and their slopes for a solver. It must
//! decide nothing about what is found.

use levenberg_marquardt::LeastSquaresProblem;
use nalgebra::{DMatrix, DVector, Dyn, Owned};

use super::runs::FitRun;
use crate::{
    bench::BenchError,
    experiment::{Experiment, plan::FittablePlan},
};

/// The step of slopes, as a share of an input's range: the solver's tolerance then adds less than 10⁻⁵ to a slope, the bend of
/// the model less than that.
const STEP: f64 = 1e-4;
/// What a setting that the bench refuses counts as, in uncertainties.
const REFUSED: f64 = 1e4;

/// Why nothing was fitted.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum FitFailure {
    /// The experiment names no input that a run can tell.
    #[error("the experiment names no input of its bench that a run can tell")]
    NothingToFit,
    /// No reading depends on any of them.
    #[error("no reading depends on what is to be found")]
    NothingTold,
    /// Fewer readings than inputs.
    #[error("{found} readings are too few for {needed} inputs")]
    TooFew {
        /// Readings there are.
        found: usize,
        /// Inputs to be found.
        needed: usize,
    },
    /// The bench refuses the settings.
    #[error("the bench refuses these settings: {0}")]
    Bench(BenchError),
}

/// Residuals over inputs.
pub(super) struct Problem<'a> {
    pub(super) experiment: &'a Experiment,
    pub(super) runs: &'a [FitRun<'a>],
    /// The inputs to be found.
    pub(super) sought: Vec<&'a FittablePlan>,
    /// Inputs that are held, with their values.
    pub(super) held: Vec<(&'a str, f64)>,
    /// One angle for each input to be found.
    angles: DVector<f64>,
}

impl<'a> Problem<'a> {
    pub(super) fn new(
        experiment: &'a Experiment,
        runs: &'a [FitRun<'a>],
        sought: Vec<&'a FittablePlan>,
        held: Vec<(&'a str, f64)>,
        start: &[f64],
    ) -> Self {
        let angles = sought.iter().zip(start).map(|(plan, &value)| {
            let (from, to) = plan.within;
            // Not on an end: there the sine is flat.
            let share = ((value - from) / (to - from)).clamp(0.02, 0.98);
            libm::asin(2.0 * share - 1.0)
        });
        let angles = DVector::from_iterator(sought.len(), angles);
        Self { experiment, runs, sought, held, angles }
    }

    /// The inputs' values.
    pub(super) fn values(&self) -> Vec<f64> {
        let value = |(plan, angle): (&&FittablePlan, &f64)| {
            let (from, to) = plan.within;
            from + (to - from) * (1.0 + libm::sin(*angle)) / 2.0
        };
        self.sought.iter().zip(self.angles.iter()).map(value).collect()
    }

    /// Reading less model, over its standard uncertainty, for every reading.
    pub(super) fn weighted(&self, values: &[f64]) -> Result<Vec<f64>, BenchError> {
        let names = self.sought.iter().map(|plan| plan.input.name.as_str());
        let inputs: Vec<(&str, f64)> = self.held.iter().copied().chain(names.zip(values.iter().copied())).collect();
        let mut all = Vec::new();
        for run in self.runs {
            let found = run.run(self.experiment, &inputs)?;
            for series in &run.series {
                let model = series.model(&found);
                all.extend(series.read.iter().zip(model).map(|(read, model)| (read - model) / series.standard));
            }
        }
        Ok(all)
    }

    /// Slopes of the residuals by each input, from a step to both sides where its ends allow.
    pub(super) fn slopes(&self, values: &[f64]) -> Result<DMatrix<f64>, BenchError> {
        let mut columns = Vec::with_capacity(values.len());
        for (place, plan) in self.sought.iter().enumerate() {
            let (from, to) = plan.within;
            let step = STEP * (to - from);
            let (low, high) = ((values[place] - step).max(from), (values[place] + step).min(to));
            let moved = |value: f64| {
                let mut values = values.to_vec();
                values[place] = value;
                self.weighted(&values)
            };
            let (below, above) = (moved(low)?, moved(high)?);
            let slopes = below.iter().zip(&above).map(|(below, above)| (above - below) / (high - low));
            columns.push(DVector::from_iterator(below.len(), slopes));
        }
        Ok(DMatrix::from_columns(&columns))
    }

    fn count(&self) -> usize {
        self.runs.iter().flat_map(|run| &run.series).map(|series| series.read.len()).sum()
    }
}

impl LeastSquaresProblem<f64, Dyn, Dyn> for Problem<'_> {
    type ResidualStorage = Owned<f64, Dyn>;
    type JacobianStorage = Owned<f64, Dyn, Dyn>;
    type ParameterStorage = Owned<f64, Dyn>;

    fn set_params(&mut self, angles: &DVector<f64>) {
        self.angles.copy_from(angles);
    }

    fn params(&self) -> DVector<f64> {
        self.angles.clone()
    }

    fn residuals(&self) -> Option<DVector<f64>> {
        let found = self.weighted(&self.values()).unwrap_or_else(|_| vec![REFUSED; self.count()]);
        Some(DVector::from_vec(found))
    }

    fn jacobian(&self) -> Option<DMatrix<f64>> {
        let mut slopes = self.slopes(&self.values()).ok()?;
        for (place, (plan, angle)) in self.sought.iter().zip(self.angles.iter()).enumerate() {
            let (from, to) = plan.within;
            slopes.column_mut(place).scale_mut((to - from) / 2.0 * libm::cos(*angle));
        }
        Some(slopes)
    }
}

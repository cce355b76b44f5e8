//! Any curve with parameters through points, by Levenberg-Marquardt. In: a curve with its slopes, points, start values.
//! Out: parameters with standard uncertainties. It must find no start values: only the curve's owner can.

use levenberg_marquardt::{LeastSquaresProblem, LevenbergMarquardt};
use nalgebra::{DMatrix, DVector, Dyn, Owned};

use super::FitError;

/// How often the search is taken up again from where it ended.
const MOST_SEARCHES: usize = 4;

/// A curve `y = f(x)` with parameters.
pub trait Curve {
    /// The ordinate at `x`.
    fn value(&self, x: f64, parameters: &[f64]) -> f64;

    /// The derivative by each parameter at `x`.
    fn gradient(&self, x: f64, parameters: &[f64], slopes: &mut [f64]);
}

/// The least-squares curve through points.
#[derive(Debug, Clone, PartialEq)]
pub struct CurveFit {
    /// The parameters.
    pub parameters: Vec<f64>,
    /// Their standard uncertainties, from the scatter of the points.
    pub uncertainties: Vec<f64>,
    /// Sum of the squared residuals, in units of y squared.
    pub residual_sum: f64,
    /// By how much each parameter moves per unit of each ordinate, `(JᵀJ)⁻¹Jᵀ`: parameter by point. Residuals are taken
    /// as small against the curve.
    pub sensitivities: Vec<Vec<f64>>,
}

impl CurveFit {
    /// Fits a curve from start values.
    ///
    /// # Errors
    /// [`FitError::TooFew`] with no point more than parameters; [`FitError::NoLimit`] where the search runs away.
    pub fn search(curve: &dyn Curve, x: &[f64], y: &[f64], start: &[f64]) -> Result<Self, FitError> {
        let count = x.len().min(y.len());
        if count <= start.len() {
            return Err(FitError::TooFew { found: count, needed: start.len() + 1 });
        }
        let found = DVector::from_column_slice(start);
        let mut problem = Problem { curve, x: &x[..count], y: &y[..count], found };
        let mut best = f64::INFINITY;
        // A step that shrank early is tried at full length again, until nothing is gained.
        for _ in 0..MOST_SEARCHES {
            let search = LevenbergMarquardt::new().with_ftol(1e-15).with_xtol(1e-15).with_gtol(0.0).with_patience(200);
            let (next, report) = search.minimize(problem);
            problem = next;
            let reached = report.objective_function;
            if !reached.is_finite() {
                return Err(FitError::NoLimit);
            }
            if reached >= best * (1.0 - 1e-12) {
                break;
            }
            best = reached;
        }
        problem.result()
    }
}

struct Problem<'a> {
    curve: &'a dyn Curve,
    x: &'a [f64],
    y: &'a [f64],
    found: DVector<f64>,
}

impl Problem<'_> {
    fn result(&self) -> Result<CurveFit, FitError> {
        let residuals = self.residuals().ok_or(FitError::NoLimit)?;
        let jacobian = self.jacobian().ok_or(FitError::NoLimit)?;
        let freedom = (self.y.len() - self.found.len()) as f64;
        let residual_sum = residuals.norm_squared();
        let inverse = (jacobian.transpose() * &jacobian).try_inverse().ok_or(FitError::NoLimit)?;
        let moved = &inverse * jacobian.transpose();
        let uncertainty = |at: usize| libm::sqrt(inverse[(at, at)] * residual_sum / freedom);
        Ok(CurveFit {
            parameters: self.found.as_slice().to_vec(),
            uncertainties: (0..self.found.len()).map(uncertainty).collect(),
            residual_sum,
            sensitivities: moved.row_iter().map(|row| row.iter().copied().collect()).collect(),
        })
    }
}

impl LeastSquaresProblem<f64, Dyn, Dyn> for Problem<'_> {
    type ResidualStorage = Owned<f64, Dyn>;
    type JacobianStorage = Owned<f64, Dyn, Dyn>;
    type ParameterStorage = Owned<f64, Dyn>;

    fn set_params(&mut self, found: &DVector<f64>) {
        self.found.copy_from(found);
    }

    fn params(&self) -> DVector<f64> {
        self.found.clone()
    }

    fn residuals(&self) -> Option<DVector<f64>> {
        let residual = |(&x, &y): (&f64, &f64)| self.curve.value(x, self.found.as_slice()) - y;
        Some(DVector::from_iterator(self.x.len(), self.x.iter().zip(self.y).map(residual)))
    }

    fn jacobian(&self) -> Option<DMatrix<f64>> {
        let mut jacobian = DMatrix::zeros(self.x.len(), self.found.len());
        let mut slopes = vec![0.0; self.found.len()];
        for (row, &x) in self.x.iter().enumerate() {
            self.curve.gradient(x, self.found.as_slice(), &mut slopes);
            slopes.iter().enumerate().for_each(|(column, &slope)| jacobian[(row, column)] = slope);
        }
        Some(jacobian)
    }
}

//! The approach to a limit, `y = limit − (limit − start) · exp(−(x − x₀) / constant)`, by Levenberg-Marquardt.
//! In: two columns of equal length. Out: limit and constant with their standard uncertainties.

use levenberg_marquardt::{LeastSquaresProblem, LevenbergMarquardt};
use nalgebra::{DMatrix, DVector, Dyn, Owned};

use super::{FitError, Line};

/// A curve that approaches its limit exponentially from the first abscissa on.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Approach {
    /// The value it tends to, in units of y.
    pub limit: f64,
    /// The value at the first abscissa, in units of y.
    pub start: f64,
    /// The constant of the exponential, in units of x.
    pub constant: f64,
    /// Standard uncertainty of the limit.
    pub limit_u: f64,
    /// Standard uncertainty of the constant.
    pub constant_u: f64,
    /// Sum of the squared residuals, in units of y squared.
    pub residual_sum: f64,
}

impl Approach {
    /// The curve's value at a distance from the first abscissa, in units of y.
    pub fn value(&self, distance: f64) -> f64 {
        self.limit - (self.limit - self.start) * libm::exp(-distance / self.constant)
    }

    /// Fits limit, constant and start; with `start` given, only limit and constant.
    ///
    /// # Errors
    /// [`FitError::TooFew`] with no point more than parameters; [`FitError::NoLimit`] where the readings do not bend.
    pub fn fit(x: &[f64], y: &[f64], start: Option<f64>) -> Result<Self, FitError> {
        let count = x.len().min(y.len());
        let needed = if start.is_some() { 3 } else { 4 };
        if count < needed {
            return Err(FitError::TooFew { found: count, needed });
        }
        let origin = if start.is_some() { 0.0 } else { x[0] };
        let mut problem = Problem {
            x: x[..count].iter().map(|x| x - origin).collect(),
            y: y[..count].to_vec(),
            fixed: start,
            found: first_guess(&x[..count], &y[..count], start)?,
        };
        // The search is repeated from where it ended: a step that shrank early is tried at full length again.
        for _ in 0..3 {
            let (next, report) = LevenbergMarquardt::new()
                .with_ftol(1e-15)
                .with_xtol(1e-15)
                .with_gtol(0.0)
                .with_patience(200)
                .minimize(problem);
            problem = next;
            if !report.objective_function.is_finite() {
                return Err(FitError::NoLimit);
            }
        }
        problem.result()
    }
}

/// Start values from the readings themselves: the rate of change falls in proportion to the distance from the limit.
fn first_guess(x: &[f64], y: &[f64], start: Option<f64>) -> Result<DVector<f64>, FitError> {
    let middles: Vec<f64> = y.windows(2).map(|pair| (pair[0] + pair[1]) / 2.0).collect();
    let rates: Vec<f64> = x.windows(2).zip(y.windows(2)).map(|(x, y)| (y[1] - y[0]) / (x[1] - x[0])).collect();
    let line = Line::fit(&middles, &rates)?;
    if line.slope >= 0.0 || !line.slope.is_finite() {
        return Err(FitError::NoLimit);
    }
    let (limit, constant) = (-line.intercept / line.slope, -1.0 / line.slope);
    Ok(match start {
        Some(_) => DVector::from_vec(vec![limit, constant]),
        None => DVector::from_vec(vec![limit, constant, y[0]]),
    })
}

struct Problem {
    x: Vec<f64>,
    y: Vec<f64>,
    fixed: Option<f64>,
    /// Limit, constant and, unless fixed, start.
    found: DVector<f64>,
}

impl Problem {
    fn start(&self) -> f64 {
        self.fixed.unwrap_or_else(|| self.found[2])
    }

    fn result(&self) -> Result<Approach, FitError> {
        let residuals = self.residuals().ok_or(FitError::NoLimit)?;
        let jacobian = self.jacobian().ok_or(FitError::NoLimit)?;
        let freedom = (self.y.len() - self.found.len()) as f64;
        let residual_sum = residuals.norm_squared();
        let inverse = (jacobian.transpose() * jacobian).try_inverse().ok_or(FitError::NoLimit)?;
        let uncertainty = |at: usize| libm::sqrt(inverse[(at, at)] * residual_sum / freedom);
        Ok(Approach {
            limit: self.found[0],
            start: self.start(),
            constant: self.found[1],
            limit_u: uncertainty(0),
            constant_u: uncertainty(1),
            residual_sum,
        })
    }
}

impl LeastSquaresProblem<f64, Dyn, Dyn> for Problem {
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
        let (limit, constant, start) = (self.found[0], self.found[1], self.start());
        let model = |x: f64| limit - (limit - start) * libm::exp(-x / constant);
        Some(DVector::from_iterator(self.x.len(), self.x.iter().zip(&self.y).map(|(&x, &y)| model(x) - y)))
    }

    fn jacobian(&self) -> Option<DMatrix<f64>> {
        let (limit, constant, start) = (self.found[0], self.found[1], self.start());
        Some(DMatrix::from_fn(self.x.len(), self.found.len(), |row, column| {
            let x = self.x[row];
            let fall = libm::exp(-x / constant);
            match column {
                0 => 1.0 - fall,
                1 => -(limit - start) * fall * x / (constant * constant),
                _ => fall,
            }
        }))
    }
}

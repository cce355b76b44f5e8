//! The approach to a limit, `y = limit − (limit − start) · exp(−(x − x₀) / constant)`, by Levenberg-Marquardt.
//! In: two columns of equal length. Out: limit and constant with their standard uncertainties.

use std::cell::RefCell;

use super::{Curve, CurveFit, FitError, Line};

thread_local! {
    /// The last fit: conditions and tasks ask several times for the same.
    static LAST: RefCell<Option<Found>> = const { RefCell::new(None) };
}

/// A fit with what it was made from.
struct Found {
    x: Vec<f64>,
    y: Vec<f64>,
    start: Option<f64>,
    result: Result<(Approach, CurveFit), FitError>,
}

impl Found {
    fn is_of(&self, x: &[f64], y: &[f64], start: Option<f64>) -> bool {
        self.start == start && self.x == x && self.y == y
    }
}

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
        Self::known(x, y, start, |(approach, _)| *approach)
    }

    /// The same with the fit behind it: limit, constant and, unless fixed, start.
    pub(crate) fn search(x: &[f64], y: &[f64], start: Option<f64>) -> Result<(Self, CurveFit), FitError> {
        Self::known(x, y, start, Clone::clone)
    }

    /// What is asked of a fit, which is made unless it was the last one.
    fn known<T>(
        x: &[f64],
        y: &[f64],
        start: Option<f64>,
        ask: impl FnOnce(&(Self, CurveFit)) -> T,
    ) -> Result<T, FitError> {
        LAST.with_borrow_mut(|last| {
            let made = || Found { x: x.to_vec(), y: y.to_vec(), start, result: Self::find(x, y, start) };
            let found = last.take().filter(|found| found.is_of(x, y, start)).unwrap_or_else(made);
            last.insert(found).result.as_ref().map(ask).map_err(Clone::clone)
        })
    }

    fn find(x: &[f64], y: &[f64], start: Option<f64>) -> Result<(Self, CurveFit), FitError> {
        let count = x.len().min(y.len());
        let needed = if start.is_some() { 3 } else { 4 };
        if count < needed {
            return Err(FitError::TooFew { found: count, needed });
        }
        let origin = if start.is_some() { 0.0 } else { x[0] };
        let distances: Vec<f64> = x[..count].iter().map(|x| x - origin).collect();
        let guess = first_guess(&x[..count], &y[..count], start)?;
        let found = CurveFit::search(&Rise { fixed: start }, &distances, &y[..count], &guess)?;
        let approach = Self {
            limit: found.parameters[0],
            start: start.unwrap_or_else(|| found.parameters[2]),
            constant: found.parameters[1],
            limit_u: found.uncertainties[0],
            constant_u: found.uncertainties[1],
            residual_sum: found.residual_sum,
        };
        Ok((approach, found))
    }
}

/// Start values from the readings themselves: the rate of change falls in proportion to the distance from the limit.
fn first_guess(x: &[f64], y: &[f64], start: Option<f64>) -> Result<Vec<f64>, FitError> {
    let middles: Vec<f64> = y.windows(2).map(|pair| (pair[0] + pair[1]) / 2.0).collect();
    let rates: Vec<f64> = x.windows(2).zip(y.windows(2)).map(|(x, y)| (y[1] - y[0]) / (x[1] - x[0])).collect();
    let line = Line::fit(&middles, &rates)?;
    if line.slope >= 0.0 || !line.slope.is_finite() {
        return Err(FitError::NoLimit);
    }
    let (limit, constant) = (-line.intercept / line.slope, -1.0 / line.slope);
    Ok(match start {
        Some(_) => vec![limit, constant],
        None => vec![limit, constant, y[0]],
    })
}

/// The curve with parameters limit, constant and, unless fixed, start.
struct Rise {
    fixed: Option<f64>,
}

impl Rise {
    fn start(&self, parameters: &[f64]) -> f64 {
        self.fixed.unwrap_or_else(|| parameters[2])
    }
}

impl Curve for Rise {
    fn value(&self, x: f64, parameters: &[f64]) -> f64 {
        let (limit, constant) = (parameters[0], parameters[1]);
        limit - (limit - self.start(parameters)) * libm::exp(-x / constant)
    }

    fn gradient(&self, x: f64, parameters: &[f64], slopes: &mut [f64]) {
        let (limit, constant) = (parameters[0], parameters[1]);
        let fall = libm::exp(-x / constant);
        let all = [1.0 - fall, -(limit - self.start(parameters)) * fall * x / (constant * constant), fall];
        slopes.iter_mut().zip(all).for_each(|(slot, slope)| *slot = slope);
    }
}

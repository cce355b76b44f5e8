//! The straight line through points by least squares.
//! In: two columns of equal length. Out: slope and intercept with their standard uncertainties.

use nalgebra::{DMatrix, DVector};

use super::FitError;

/// A least-squares line `y = intercept + slope · x`.
///
/// Source: ordinary linear regression as in JCGM 100:2008, H.3; solved by QR decomposition on centred abscissae, which
/// keeps nine certified digits on the NIST StRD linear sets.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Line {
    /// Slope, in units of y over x.
    pub slope: f64,
    /// Value at x = 0, in units of y.
    pub intercept: f64,
    /// Standard uncertainty of the slope; infinite for two points.
    pub slope_u: f64,
    /// Standard uncertainty of the intercept; infinite for two points.
    pub intercept_u: f64,
    /// Residual standard deviation, in units of y.
    pub residual: f64,
}

impl Line {
    /// Fits a line.
    ///
    /// # Errors
    /// [`FitError::TooFew`] below two points, [`FitError::Vertical`] where all abscissae are equal.
    pub fn fit(x: &[f64], y: &[f64]) -> Result<Self, FitError> {
        let count = x.len().min(y.len());
        if count < 2 {
            return Err(FitError::TooFew { found: count, needed: 2 });
        }
        let middle = x.iter().sum::<f64>() / count as f64;
        let spread: f64 = x.iter().map(|x| (x - middle) * (x - middle)).sum();
        if spread <= 0.0 {
            return Err(FitError::Vertical);
        }
        let design = DMatrix::from_fn(count, 2, |row, column| if column == 0 { 1.0 } else { x[row] - middle });
        let decomposition = design.clone().qr();
        let projected = decomposition.q().transpose() * DVector::from_column_slice(&y[..count]);
        let found = decomposition.r().solve_upper_triangular(&projected).ok_or(FitError::Vertical)?;
        let (centre, slope) = (found[0], found[1]);
        let rest = DVector::from_column_slice(&y[..count]) - design * found;
        let residual = if count > 2 { libm::sqrt(rest.norm_squared() / (count as f64 - 2.0)) } else { f64::INFINITY };
        Ok(Self {
            slope,
            intercept: centre - slope * middle,
            slope_u: residual / libm::sqrt(spread),
            intercept_u: residual * libm::sqrt(1.0 / count as f64 + middle * middle / spread),
            residual,
        })
    }
}

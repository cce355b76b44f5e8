//! Least squares. In: columns of numbers. Out: parameters with standard uncertainties. It must know no units.

mod approach;
mod curve;
mod line;

pub use approach::Approach;
pub use curve::{Curve, CurveFit};
pub use line::Line;

/// Why no fit was found.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum FitError {
    /// Fewer points than the parameters need.
    #[error("{found} points are too few for a fit that needs {needed}")]
    TooFew {
        /// Points there are.
        found: usize,
        /// Points needed.
        needed: usize,
    },
    /// All points stand at the same place.
    #[error("all points have the same abscissa")]
    Vertical,
    /// The curve shows no approach to a limit, or the search did not end.
    #[error("the readings show no approach to a limit")]
    NoLimit,
}

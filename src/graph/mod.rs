//! Graph paper. In: the numbers on an axis. Out: a scale in easy steps, and places in millimetres.
//! It must know no layout.

mod paper;
mod scale;
mod smooth;

pub use paper::GraphPaper;
pub use scale::{Scale, ScaleError};
pub use smooth::Smooth;

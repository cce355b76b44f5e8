//! Graph paper. In: the numbers on an axis. Out: a scale in easy steps, and places in millimetres.
//! It must know no layout.

mod scale;

pub use scale::Scale;

/// Width of the graph paper on every sheet, in whole 10 mm.
pub const WIDTH: f64 = 160.0;

/// Height of the graph paper on every sheet, in whole 10 mm.
pub const HEIGHT: f64 = 120.0;

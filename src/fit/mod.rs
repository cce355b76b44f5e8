//! A bench fitted to real runs. In: runs with all their readings, an experiment. Out: the bench's uncertain inputs with their
//! uncertainties, what the runs can't tell, and a verdict. It must read no file and word nothing.
//!
//! Least squares on the bench's own equations, solved anew for each trial: `Σ ((reading − model) / u)²` over all rows of all runs, with
//! u the instrument's repeatability (noise and resolution). A quantity read once that is an input of the bench sets it, unless that
//! input is to be found; else it counts as one more reading, weighted with its class limit. The search is Levenberg and Marquardt's on
//! `p = a + (b − a) (1 + sin v) / 2`, which keeps each input between its ends a and b.

mod bench_file;
mod held;
mod lesson;
mod problem;
mod runs;
mod search;
mod spread;
mod verdict;

pub use bench_file::{BenchFile, Provenance};
pub use held::Because;
pub use lesson::{Lesson, lesson};
pub use problem::FitFailure;
pub use search::{BenchFit, Fitted, FittedColumn, FittedRun, Held, fit};
pub use verdict::{Reason, Verdict};

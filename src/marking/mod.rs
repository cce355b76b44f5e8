//! Marking. In: a printed set and the answers that a teacher typed in. Out: verdicts, marks, and what the class did not
//! understand. It must never mark by guess, nor suspect anybody.

mod entry;
mod form;
mod judge;
pub mod look_again;
mod own;
mod report;
mod statistics;
mod verdict;
mod workbook;

pub use entry::{Entry, Typed, TypedUnit};
pub use form::{FilledForm, FilledRow, Override, filled};
pub use judge::{Attempt, MarkedStudent, Marking, mark};
pub use look_again::{Resemblance, look_again};
pub use report::Marked;
pub use statistics::{Item, Scores};
pub use verdict::{Verdict, Why};

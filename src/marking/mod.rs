//! Marking. In: a printed set and the answers that a teacher typed in. Out: verdicts, marks, and what the class did not
//! understand. It must never mark by guess, nor suspect anybody.

mod entry;
mod form;
mod judge;
pub mod look_again;
mod marks;
mod own;
mod report;
mod statistics;
mod verdict;
mod workbook;

pub use entry::{Entry, Typed, TypedUnit};
pub use form::{FilledForm, FilledRow, Override, filled};
pub use look_again::Resemblance;
pub use marks::{Attempt, MarkedStudent, Marking, mark};
pub use report::Marked;
pub use statistics::{Item, Scores};
pub use verdict::{Verdict, Why};

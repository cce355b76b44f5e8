//! Keys. In: an experiment and one student's printed data. Out: every answer with its accepted range.
//! A key must be computed from what is printed, never from the true states.

mod answer;
mod build;
mod slack;

pub use answer::{Answer, Cell, Number};
pub use build::{Key, KeyError};

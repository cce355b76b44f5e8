//! Diagnostics: what is wrong, where, what was expected, how to mend it.
//!
//! In: messages of the lower layers, with or without a place. Out: problems that can be gathered, ordered and shown.
//! This room must never decide whether the program goes on: it only describes.

mod json;
mod nearest;
mod problem;
mod screen;
mod source;

pub use json::json;
pub use nearest::nearest;
pub use problem::{Level, Place, Problem, Problems};
pub use screen::show;
pub use source::Source;

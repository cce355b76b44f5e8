//! Experiments. In: a YAML file. Out: a checked experiment, or everything that is wrong with the file, located.
//! The only room that knows the file format; it must draw and compute nothing.

pub mod catalogue;
pub mod definition;
mod entry;
mod load;
mod place;
pub mod plan;
pub mod prose;
pub mod structure;
mod text;

pub use definition::{Definition, Fairness};
pub use entry::{Entry, entries};
pub(crate) use load::{FORMATS, OF_BENCH};
pub use load::{load, read, schema};
pub(crate) use place::escape;
pub use place::{Path, PlaceMap, Segment};
pub use plan::Experiment;
pub use text::Text;

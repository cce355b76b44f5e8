//! Experiments. In: a YAML file. Out: a checked experiment, or everything that is wrong with the file, located.
//! The only room that knows the file format; it must draw and compute nothing.

mod definition;
mod place;
pub mod structure;
mod text;

pub use definition::Definition;
pub use place::{Path, PlaceMap, Segment};
pub use text::Text;

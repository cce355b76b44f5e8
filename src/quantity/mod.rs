//! Numbers with units. In: text of an author or a student. Out: values in SI, and text for a reader.
//! It must know nothing of experiments, benches or sheets.

mod notation;

pub use notation::Notation;

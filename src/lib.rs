//! labquire: from an experiment definition and a class list to worksheets, keys and marks.
//!
//! In: arguments of the command line. Out: files and an exit code. The library must never end the process.

pub mod class;
pub mod draw;
pub mod experiment;
pub mod formula;
pub mod language;
pub mod press;
pub mod quantity;
pub mod readings;
pub mod report;
pub mod sheet;

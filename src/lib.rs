//! labquire: from an experiment definition and a class list to worksheets, keys and marks.
//!
//! In: arguments of the command line. Out: files and an exit code. The library must never end the process.
//!
//! ```text
//! definition ─ experiment ─┐
//! class list ─ class ──────┤→ variant (draw → bench → readings) → key → compose → sheet → press → set
//! ```

pub mod audit;
pub mod bench;
pub mod class;
pub mod commands;
pub mod compose;
pub mod copying;
pub mod draw;
pub mod experiment;
pub mod fit;
pub mod formula;
pub mod graph;
pub mod key;
pub mod language;
pub mod marking;
pub mod measured;
pub mod press;
pub mod quantity;
pub mod readings;
pub mod report;
pub mod review;
pub mod set;
pub mod sheet;
mod table;
pub mod uncertainty;
pub mod variant;

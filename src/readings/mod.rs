//! Readings: what instruments make of true states. In: true values, instruments, a seed. Out: printed text and its value.
//! They must know no task.

mod instrument;
mod table;

pub use instrument::Instrument;
pub use table::{Column, Table};

//! Numbers with units. In: text of an author or a student. Out: values in SI, and text for a reader.
//! It must know nothing of experiments, benches or sheets.

mod amount;
mod catalogue;
mod digits;
mod dimension;
mod familiar;
mod notation;
mod reading;
pub mod rounding;
mod separators;
mod slip;
mod stored;
mod unit;
mod unit_error;
mod unit_text;
mod whole;

pub use amount::{Quantity, QuantityError};
pub use dimension::{Dimension, Exponent};
pub use familiar::familiar;
pub use notation::Notation;
pub use reading::{NumberError, Written};
pub use unit::{Kind, Unit};
pub use unit_error::{UnitError, UnitFault};

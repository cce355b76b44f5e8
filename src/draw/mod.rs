//! Drawing. In: ranges and a seed. Out: values on their grid, the same for ever. It must know no physics.

mod range;
mod stream;

pub use range::{Range, RangeError};
pub use stream::Seed;

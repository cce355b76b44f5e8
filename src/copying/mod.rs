//! What copying would pay. In: the answers to two sheets of one edition. Out: the marks that one student's right answers earn
//! on the other's sheet. It must suspect nobody: it compares sheets, not students.
//!
//! Only tasks that are answered by a number count, with their marks and the very ranges of the keys. An answer counts as
//! accepted where its printed form or its full value lies within the other's range.

mod expected;
mod limit;
mod offer;

pub use expected::{Expected, ExpectedNumber};
pub use limit::{CopyLimit, CopyLimitError};
pub use offer::Offer;

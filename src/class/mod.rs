//! The class. In: the teacher's list. Out: students in order, with edition, seat and needs. It must never draw a number.

mod code;
mod decode;
mod edition;
mod read;
mod roster;
mod seat;
mod sheet_file;

pub use code::{Code, CodeError};
pub use edition::Edition;
pub use read::{demo, read};
pub use roster::{Roster, Student};
pub use seat::Seat;

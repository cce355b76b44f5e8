//! The class. In: the teacher's list. Out: students in order, with edition, seat and needs. It must never draw a number.

mod code;
mod deal;
mod edition;
mod read;
mod roster;
mod row_reader;
mod seat;

pub use code::{Code, CodeError};
pub use deal::{Deal, deal};
pub use edition::Edition;
pub use read::{demo, read};
pub use roster::{Roster, Student};
pub use seat::Seat;

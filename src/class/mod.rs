//! The class. In: the teacher's list. Out: students in order, with edition, seat and needs. It must never draw a number.

mod code;
mod deal;
mod decode;
mod edition;
mod read;
mod roster;
mod row_reader;
mod seat;
mod sheet_file;
mod text_table;
mod workbook;

pub use code::{Code, CodeError};
pub use deal::{Deal, deal};
pub use edition::Edition;
pub use read::{demo, read};
pub use roster::{Roster, Student};
pub use seat::Seat;

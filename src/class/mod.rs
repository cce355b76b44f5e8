//! The class. In: the teacher's list. Out: students in order, with edition, seat and needs. It must never draw a number.

mod edition;

pub use edition::Edition;

//! The students of a class. In: checked rows. Out: students in file order and in seat order. It must read no file.

use super::{Edition, Seat};

/// A class.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Roster {
    /// Its name: the file's name without its ending.
    pub name: String,
    /// The students, in the file's order.
    pub students: Vec<Student>,
}

/// A student.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Student {
    /// What tells the student from all others of the class.
    pub id: String,
    /// The name as it is printed.
    pub name: String,
    /// The edition, if the row names one.
    pub edition: Option<Edition>,
    /// The seat, if the row names one.
    pub seat: Option<Seat>,
    /// The bench group, if the row names one.
    pub group: Option<String>,
    /// The language code, if the row names one.
    pub lang: Option<String>,
    /// Whether the sheet is set in large print.
    pub large: bool,
}

impl Roster {
    /// The students' places in the order of printing: by seat where seats are given, those without one last, else as in
    /// the file.
    pub fn order(&self) -> Vec<usize> {
        let mut order: Vec<usize> = (0..self.students.len()).collect();
        order.sort_by_key(|&place| (self.students[place].seat.is_none(), self.students[place].seat));
        order
    }
}

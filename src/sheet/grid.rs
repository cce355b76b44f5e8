//! The marking grid. In: formatted texts. Out: plain data.

use serde::Serialize;

/// A row a student, a column a task.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Grid {
    /// Language of the fixed words.
    pub lang: String,
    /// What it is: the marking grid, or that by version.
    pub heading: String,
    /// Title of the experiment.
    pub title: String,
    /// The class.
    pub class: String,
    /// Heads of the three columns before the tasks.
    pub heads: [String; 3],
    /// The tasks.
    pub columns: Vec<GridColumn>,
    /// The students.
    pub rows: Vec<GridRow>,
}

/// A task in the grid.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct GridColumn {
    /// Its number, as on the sheets; empty where the numbers differ between editions.
    pub number: String,
    /// Its id.
    pub id: String,
    /// Unit of its values; empty for a task without a number.
    pub unit: String,
    /// What it is worth.
    pub marks: u32,
}

/// A student in the grid.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct GridRow {
    /// The name, or the id where names are not printed; else the version.
    pub name: String,
    /// The code of the sheet; else how many have the version.
    pub code: String,
    /// The edition in words, with the version where versions are shared.
    pub edition: String,
    /// A cell for each column; `None` where the student's edition lacks the task.
    pub cells: Vec<Option<GridCell>>,
}

/// An answer in the grid.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct GridCell {
    /// The value without its unit; empty for a task without a number.
    pub value: String,
    /// The accepted range.
    pub accept: Option<String>,
}

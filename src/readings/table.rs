//! The table of readings. In: columns of printed readings. Out: rows and columns, as text and as values.
//! It must not be changed once it is printed.

use serde::{Deserialize, Serialize};

/// A column as it is printed.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Column {
    /// The name that formulas use.
    pub id: String,
    /// Printed readings: plain decimal text.
    pub texts: Vec<String>,
    /// The same as numbers, in the column's unit.
    pub values: Vec<f64>,
}

/// Columns of equal length.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize)]
pub struct Table {
    /// The columns, the schedule's own first.
    pub columns: Vec<Column>,
}

impl Table {
    /// How many rows there are.
    pub fn rows(&self) -> usize {
        self.columns.first().map_or(0, |column| column.values.len())
    }

    /// The column of a name.
    pub fn column(&self, id: &str) -> Option<&Column> {
        self.columns.iter().find(|column| column.id == id)
    }

    /// The texts of a row.
    pub fn row(&self, row: usize) -> impl Iterator<Item = &str> {
        self.columns.iter().filter_map(move |column| column.texts.get(row).map(String::as_str))
    }
}

//! The blocks a sheet is made of. In: texts. Out: plain data. Their look is the templates' matter.

use std::collections::BTreeMap;

use serde::Serialize;

use super::{Graph, Math, Rich, Task};

/// A block of a sheet.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[serde(tag = "kind", rename_all = "snake_case")]
pub enum Block {
    /// What the experiment is for, and how long it takes.
    Aim {
        /// The aim.
        text: String,
        /// The time it takes, in words.
        duration: String,
    },
    /// What is needed.
    Kit {
        /// One entry a thing.
        items: Vec<String>,
    },
    /// What to take care of.
    Cautions {
        /// One entry a hazard.
        items: Vec<Caution>,
    },
    /// The steps of setting up and running.
    Steps {
        /// In order.
        steps: Vec<Step>,
    },
    /// A line drawing.
    Picture {
        /// Name of the drawing: the file `templates/art/NAME.typ`.
        art: String,
        /// What it shows, in words.
        alt: String,
        /// The texts of its labels by the drawing's own names for its parts.
        labels: BTreeMap<String, String>,
    },
    /// Quantities that are told.
    Data {
        /// One row a quantity.
        rows: Vec<Datum>,
    },
    /// A table of readings.
    Table(Table),
    /// A task.
    Task(Box<Task>),
    /// A real run beside its bench.
    Comparison {
        /// The heading.
        heading: String,
        /// Both in a small graph.
        graph: Box<Graph>,
        /// What to say of it.
        lines: Vec<Rich>,
    },
}

/// A hazard and what to do about it.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Caution {
    /// The key word, set bold.
    pub word: String,
    /// One sentence.
    pub text: String,
}

/// A step.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Step {
    /// What to do.
    pub text: Rich,
    /// What to take care of at this step.
    pub caution: Option<String>,
}

/// A quantity with its value.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Datum {
    /// Name of the quantity.
    pub name: String,
    /// Its symbol.
    pub symbol: Math,
    /// Its value with unit; where it is still to be noted, the unit alone.
    pub value: String,
    /// Whether it is still to be noted.
    pub blank: bool,
}

/// A table of readings.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Table {
    /// A head for each column: quantity over unit.
    pub heads: Vec<Rich>,
    /// Rows of as many cells as there are heads.
    pub rows: Vec<Vec<Cell>>,
    /// Lines under the table.
    pub notes: Vec<Rich>,
}

/// A cell of a table.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[serde(tag = "kind", content = "text", rename_all = "snake_case")]
pub enum Cell {
    /// Printed.
    Text(String),
    /// To be filled in.
    Empty,
    /// Filled in by the key.
    Filled(String),
}

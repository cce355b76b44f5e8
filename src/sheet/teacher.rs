//! The teacher's notes. In: texts. Out: plain data.

use std::collections::BTreeMap;

use serde::Serialize;

use super::{Caution, Graph, Rich};

/// The notes to prepare a lesson from.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Teacher {
    /// Language of the fixed words.
    pub lang: String,
    /// What kind of paper it is.
    pub head: String,
    /// Title of the experiment.
    pub title: String,
    /// The class; empty where there is none.
    pub class: String,
    /// What stands in the notes, in order.
    pub sections: Vec<Section>,
}

/// A section with its heading.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Section {
    /// The heading.
    pub heading: String,
    /// What stands under it.
    pub passages: Vec<Passage>,
    /// Whether it shares its height with the next section, side by side.
    pub beside: bool,
}

/// A passage of a section.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[serde(tag = "kind", rename_all = "snake_case")]
pub enum Passage {
    /// A paragraph.
    Text {
        /// The text.
        text: Rich,
    },
    /// A list.
    List {
        /// Its entries.
        items: Vec<Rich>,
    },
    /// Hazards in a ruled box.
    Cautions {
        /// One entry a hazard.
        items: Vec<Caution>,
    },
    /// A plain table.
    Table {
        /// Its heads.
        heads: Vec<Rich>,
        /// Its rows, as many cells as there are heads.
        rows: Vec<Vec<String>>,
    },
    /// A small graph.
    Graph {
        /// The graph.
        graph: Box<Graph>,
    },
    /// A line drawing.
    Picture {
        /// Name of the drawing.
        art: String,
        /// What it shows, in words.
        alt: String,
        /// The texts of its labels.
        labels: BTreeMap<String, String>,
    },
}

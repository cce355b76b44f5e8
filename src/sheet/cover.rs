//! The sheet that lies on top of a class set. In: formatted texts. Out: plain data.

use serde::Serialize;

/// What is in the stack, in which order.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Cover {
    /// Language of the fixed words.
    pub lang: String,
    /// Title of the experiment.
    pub title: String,
    /// The class; empty where there is none.
    pub class: String,
    /// What there is with how much of it.
    pub counts: Vec<(String, String)>,
    /// How to print it.
    pub advice: String,
    /// Heads of the table.
    pub heads: Vec<String>,
    /// A row for each sheet, as many cells as there are heads.
    pub rows: Vec<Vec<String>>,
}

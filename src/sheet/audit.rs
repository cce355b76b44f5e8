//! The audit of a set. In: formatted texts, places between 0 and 1. Out: plain data.

use serde::Serialize;

/// How different, how fair, how copy-safe the sheets of a set are.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct AuditPage {
    /// Language of the words.
    pub lang: String,
    /// Title of the experiment.
    pub title: String,
    /// Class and seed.
    pub about: String,
    /// What the audit comes to, the most important first.
    pub verdicts: Vec<String>,
    /// The editions in use.
    pub editions: Vec<AuditEdition>,
    /// What became of the draws.
    pub draws: Vec<String>,
}

/// The sheets of an edition.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct AuditEdition {
    /// Edition and number of sheets.
    pub heading: String,
    /// What copying earns, and how many sheets there could be.
    pub lines: Vec<String>,
    /// Heads of the table of tasks.
    pub heads: Vec<String>,
    /// Its rows; a cell out of bounds ends in a star.
    pub rows: Vec<Vec<String>>,
    /// What each sheet's answers earn on each other.
    pub heat: Heat,
    /// The answers to each task.
    pub strips: Vec<Strip>,
}

/// A square field of shares: a row for whose answers are copied, a column for onto whose sheet.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Heat {
    /// Sheets in a row.
    pub side: usize,
    /// Luminance row by row, from white for nothing to black for half of the marks and more.
    pub pixels: Vec<u8>,
    /// Cells above the limit: column and row, from 0.
    pub crosses: Vec<(usize, usize)>,
    /// The sheets in order.
    pub sheets: Vec<String>,
    /// What it shows, in words.
    pub alt: String,
    /// The words at its axes: whose answers, onto whose sheet.
    pub axes: (String, String),
    /// The words under it.
    pub caption: String,
}

/// The answers to a task on an axis from the least to the most.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Strip {
    /// Symbol and unit.
    pub label: String,
    /// The least and the most answer.
    pub ends: (String, String),
    /// The answers, from 0 to 1.
    pub ticks: Vec<f64>,
    /// How wide a typical accepted range is, as a part of the axis.
    pub range: f64,
    /// What it shows, in words.
    pub alt: String,
}

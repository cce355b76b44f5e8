//! The answer to a task as a key prints it. In: formatted texts. Out: plain data.

use serde::Serialize;

use super::{Math, Rich};

/// An answer with its working.
#[derive(Debug, Clone, Default, PartialEq, Serialize)]
pub struct Solution {
    /// The working, a line each.
    pub lines: Vec<Math>,
    /// The result with its unit; empty for an answer in words or a drawing.
    pub result: String,
    /// The accepted range.
    pub accept: Option<String>,
    /// What earns marks.
    pub points: Vec<MarkPoint>,
    /// Why there is no answer; empty where there is one.
    pub gap: String,
    /// A model answer in words.
    pub model: Option<Rich>,
    /// Remarks.
    pub notes: Vec<Rich>,
}

/// A thing that earns marks.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct MarkPoint {
    /// What it is.
    pub text: String,
    /// How many marks.
    pub marks: u32,
}

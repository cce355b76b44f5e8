//! What a student gets back. In: formatted texts. Out: plain data.

use serde::Serialize;

use super::{Rich, Solution};

/// The page of one student.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Feedback {
    /// Language of the fixed words.
    pub lang: String,
    /// Region of the language.
    pub region: Option<String>,
    /// Large print.
    pub large: bool,
    /// Title of the experiment.
    pub title: String,
    /// The student's name; `None` prints the code alone.
    pub student: Option<String>,
    /// The class.
    pub class: String,
    /// The code of the sheet.
    pub tag: String,
    /// The edition in words.
    pub edition_word: String,
    /// Marks earned and to be had, as `27 / 33`.
    pub total: String,
    /// A remark on the total, such as that it was entered by hand.
    pub remark: String,
    /// A row for each task.
    pub rows: Vec<FeedbackRow>,
    /// Tasks that lost marks, with their working.
    pub workings: Vec<Reworked>,
    /// One thing to do next.
    pub next: Rich,
}

/// What became of a task.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct FeedbackRow {
    /// Its number on the sheet.
    pub number: String,
    /// The student's answer.
    pub own: String,
    /// What was expected; empty for a rubric.
    pub expected: String,
    /// The verdict in words.
    pub verdict: String,
    /// Marks earned and to be had.
    pub marks: String,
}

/// A task with its working.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Reworked {
    /// Its number on the sheet.
    pub number: String,
    /// What was asked.
    pub ask: Rich,
    /// The working.
    pub solution: Solution,
}

//! A task of a sheet. In: texts. Out: plain data. It must know nothing of numbers.

use serde::Serialize;

use super::{Graph, Math, Rich, Solution};

/// A task.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Task {
    /// Its number on the sheet, such as `3`.
    pub number: String,
    /// Its id.
    pub id: String,
    /// What is asked.
    pub ask: Rich,
    /// A help.
    pub hint: Option<Rich>,
    /// What it is worth.
    pub marks: u32,
    /// Where the answer goes.
    pub space: AnswerSpace,
    /// The answer; only in keys.
    pub solution: Option<Solution>,
}

/// The room for an answer.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[serde(tag = "kind", rename_all = "snake_case")]
pub enum AnswerSpace {
    /// Room for working and a line for a number with its unit.
    NumberLine {
        /// Symbol of the answer.
        symbol: Math,
        /// Its unit; empty where the student has to name it.
        unit: String,
        /// Height of the room for working, in millimetres.
        room_mm: u32,
    },
    /// Ruled lines.
    Lines {
        /// How many.
        count: u32,
    },
    /// Graph paper, with points to look over afterwards.
    Graph {
        /// The paper.
        graph: Box<Graph>,
        /// The points.
        ticks: Vec<String>,
    },
    /// Points to tick, for an answer that is given elsewhere on the sheet.
    Ticks {
        /// The points.
        items: Vec<String>,
    },
    /// None, and why.
    Gap {
        /// Why the task can't be answered.
        why: String,
    },
    /// None.
    None,
}

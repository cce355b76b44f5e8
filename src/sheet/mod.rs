//! The page as data. In: texts and numbers that are already formatted. Out: plain values that the press renders.
//! Nothing is computed, rounded or worded here.

mod audit;
mod block;
mod class_report;
mod cover;
mod feedback;
mod graph;
mod grid;
mod rich;
mod solution;
mod task;
mod teacher;

pub use audit::{AuditEdition, AuditPage, Heat, Strip};
pub use block::{Block, Caution, Cell, Datum, Step, Table};
pub use class_report::ClassReport;
pub use cover::Cover;
pub use feedback::{Feedback, FeedbackRow, Reworked};
pub use graph::{Axis, Frame, Graph, GuideLine, Label, Series, Side};
pub use grid::{Grid, GridCell, GridColumn, GridRow};
pub use rich::{Math, Rich, Run};
pub use solution::{MarkPoint, Solution};
pub use task::{AnswerSpace, Task};
pub use teacher::{Passage, Section, Teacher};

use serde::Serialize;

/// One student's sheet, or that student's key.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Sheet {
    /// Language of the fixed words, such as `de`.
    pub lang: String,
    /// Region of the language, such as `AT`.
    pub region: Option<String>,
    /// Large print: 18 pt, set anew.
    pub large: bool,
    /// Title of the experiment.
    pub title: String,
    /// The student's name; `None` prints the code alone.
    pub student: Option<String>,
    /// The class.
    pub class: String,
    /// The day of the lesson; `None` leaves its box empty.
    pub date: Option<String>,
    /// What stands on each page: the code, or the words for a version.
    pub tag: String,
    /// The code of the sheet; a key that several share has none.
    pub code: Option<String>,
    /// The version, where versions are shared.
    pub version: Option<String>,
    /// The edition in words.
    pub edition_word: String,
    /// What stands on the sheet, in order. Each goes into a source of its own, and is not part of the sheet's.
    #[serde(skip)]
    pub blocks: Vec<Block>,
}

impl Sheet {
    /// The graphs on which something is drawn, in order.
    pub fn drawings(&self) -> impl Iterator<Item = &Graph> {
        let graphs = self.blocks.iter().filter_map(|block| match block {
            Block::Task(task) => match &task.space {
                AnswerSpace::Graph { graph, .. } => Some(graph.as_ref()),
                _ => None,
            },
            _ => None,
        });
        graphs.filter(|graph| graph.is_drawn())
    }

    /// All marks to be had on the sheet.
    pub fn marks(&self) -> u32 {
        self.blocks.iter().map(|block| if let Block::Task(task) = block { task.marks } else { 0 }).sum()
    }
}

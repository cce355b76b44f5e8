//! Composing: the views of one student's data. In: experiment, variant, key, language. Out: pages as data.
//! It must compute no answer and know no layout.

mod audit;
mod audit_tasks;
mod bench_fit;
mod class_report;
mod comparison;
mod cover;
mod expected;
mod facts;
mod feedback;
mod gap;
mod graph;
mod grid;
mod prose;
mod range;
mod sheet;
mod sketch;
mod span;
mod table;
mod taken;
mod task;
mod teacher;
mod text_key;
mod verdict;

pub use audit::audit;
pub use bench_fit::bench_fit;
pub use class_report::class_report;
pub use cover::{Stack, Stacked, cover};
pub use facts::Facts;
pub use feedback::feedback;
pub use gap::gap;
pub use grid::{grid, version_grid};
pub use range::accepted;
pub use sheet::{Labels, sheet};
pub use span::Span;
pub use teacher::teacher;
pub use text_key::text_key;
pub use verdict::{verdict, why};

use crate::class::Edition;

/// Which page is composed.
#[derive(Debug, Clone, Copy)]
struct Page {
    edition: Edition,
    large: bool,
    view: View,
}

/// Whether a page is the student's or the key to it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum View {
    /// The student's sheet.
    Worksheet,
    /// The key.
    Key,
}

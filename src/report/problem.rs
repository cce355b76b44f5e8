//! One thing that is wrong. In: message, place, hint. Out: an ordered list of such things. It must never print.

use std::{ops::Range, sync::Arc};

use super::Source;

/// How serious a problem is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Level {
    /// Nothing can be made from this input.
    Error,
    /// Something can be made, but likely not what was meant.
    Warning,
    /// For the user to know.
    Notice,
}

/// Where a problem lies.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Place {
    /// A range of bytes in a text.
    Text(Arc<Source>, Range<usize>),
    /// A cell of a workbook: file, sheet, address such as `B4`.
    Cell(String, String, String),
    /// A whole file or folder.
    File(String),
}

/// One problem: a message that starts in lower case and has no full stop, with its place and a hint.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Problem {
    /// How serious it is.
    pub level: Level,
    /// What was found.
    pub message: String,
    /// What stands beside the underline: usually what was expected.
    pub label: String,
    /// Where, if it is known.
    pub place: Option<Place>,
    /// Other places that belong to it, each with the words beside its underline.
    pub also: Vec<(Place, String)>,
    /// How to mend it.
    pub hint: Option<String>,
}

/// Everything found wrong in one run.
pub type Problems = Vec<Problem>;

impl Problem {
    /// An error without a place yet.
    pub fn error(message: impl Into<String>) -> Self {
        Self::new(Level::Error, message)
    }

    /// A warning without a place yet.
    pub fn warning(message: impl Into<String>) -> Self {
        Self::new(Level::Warning, message)
    }

    /// A notice without a place yet.
    pub fn notice(message: impl Into<String>) -> Self {
        Self::new(Level::Notice, message)
    }

    fn new(level: Level, message: impl Into<String>) -> Self {
        Self { level, message: message.into(), label: String::new(), place: None, also: Vec::new(), hint: None }
    }

    /// The same problem with a place.
    #[must_use]
    pub fn at(mut self, place: Place) -> Self {
        self.place = Some(place);
        self
    }

    /// The same problem with the words beside its underline.
    #[must_use]
    pub fn label(mut self, label: impl Into<String>) -> Self {
        self.label = label.into();
        self
    }

    /// The same problem with one more place that belongs to it.
    #[must_use]
    pub fn also(mut self, place: Place, label: impl Into<String>) -> Self {
        self.also.push((place, label.into()));
        self
    }

    /// The same problem with a hint.
    #[must_use]
    pub fn hint(mut self, hint: impl Into<String>) -> Self {
        self.hint = Some(hint.into());
        self
    }
}

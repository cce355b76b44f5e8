//! What of its marks an answer still earns that is not quite right. In: YAML. Out: kinds of marks, each with a default.
//! Nothing is computed here.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::Marks;

/// A kind of mark.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum MarkKind {
    /// For the right relation and substitution.
    Method,
    /// For the right number.
    Accuracy,
    /// For the unit.
    Unit,
}

use MarkKind::{Accuracy, Method, Unit};

/// The kinds of marks that an answer still earns; what is left out keeps its default.
#[derive(Debug, Clone, Default, PartialEq, Eq, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Credit {
    /// Right from the student's own earlier answers: method, accuracy and unit.
    #[serde(default)]
    pub follow_through: Option<Vec<MarkKind>>,
    /// A unit that does not fit, or none where it is the student's task to name it: method and accuracy.
    #[serde(default)]
    pub unit: Option<Vec<MarkKind>>,
    /// More or fewer significant figures than asked for, by two and more: method, accuracy and unit.
    #[serde(default)]
    pub figures: Option<Vec<MarkKind>>,
    /// Off by a power of ten: method and unit.
    #[serde(default)]
    pub power_of_ten: Option<Vec<MarkKind>>,
    /// What a listed slip gives: none.
    #[serde(default)]
    pub slip: Option<Vec<MarkKind>>,
}

impl Credit {
    /// This credit, and where something is left out, that of another.
    #[must_use]
    pub fn or(self, other: &Self) -> Self {
        Self {
            follow_through: self.follow_through.or_else(|| other.follow_through.clone()),
            unit: self.unit.or_else(|| other.unit.clone()),
            figures: self.figures.or_else(|| other.figures.clone()),
            power_of_ten: self.power_of_ten.or_else(|| other.power_of_ten.clone()),
            slip: self.slip.or_else(|| other.slip.clone()),
        }
    }

    /// Kinds for an answer that follows from own earlier answers.
    pub fn follow_through(&self) -> &[MarkKind] {
        self.follow_through.as_deref().unwrap_or(&[Method, Accuracy, Unit])
    }

    /// Kinds for an answer whose unit alone is at fault.
    pub fn unit(&self) -> &[MarkKind] {
        self.unit.as_deref().unwrap_or(&[Method, Accuracy])
    }

    /// Kinds for an answer with too many or too few figures.
    pub fn figures(&self) -> &[MarkKind] {
        self.figures.as_deref().unwrap_or(&[Method, Accuracy, Unit])
    }

    /// Kinds for an answer off by a power of ten.
    pub fn power_of_ten(&self) -> &[MarkKind] {
        self.power_of_ten.as_deref().unwrap_or(&[Method, Unit])
    }

    /// Kinds for what a listed slip gives.
    pub fn slip(&self) -> &[MarkKind] {
        self.slip.as_deref().unwrap_or(&[])
    }
}

impl Marks {
    /// What these kinds of the task's marks come to.
    pub fn of(self, kinds: &[MarkKind]) -> u32 {
        let worth = |kind: MarkKind| match kind {
            Method => self.method,
            Accuracy => self.accuracy,
            Unit => self.unit,
        };
        [Method, Accuracy, Unit].into_iter().filter(|kind| kinds.contains(kind)).map(worth).sum()
    }
}

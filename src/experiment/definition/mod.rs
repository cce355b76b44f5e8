//! The file format of an experiment: what a YAML file may say. In: YAML. Out: the same as plain data, not yet checked.
//! Nothing else in the program knows this format; the data must not be used before `load` has checked it.

mod credit;
mod fairness;
mod quantities;
mod readings;
mod real;
mod tasks;
mod teacher;
mod walk;

use indexmap::IndexMap;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

pub use credit::{Credit, MarkKind};
pub use fairness::Fairness;
pub use quantities::{Drawn, Given};
pub use readings::{Column, Instrument, Once, Readings, Schedule};
pub use real::{Cause, Fittable, Span};
pub use tasks::{Answered, ColumnTask, Curve, GraphTask, Marks, NumberTask, Slip, Task, TextTask};
pub use teacher::{Step as TimeStep, Teacher};

use super::Text;
use crate::quantity::Quantity;

/// One experiment.
#[derive(Debug, Clone, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Definition {
    /// Version of this format: 1.
    pub format: u32,
    /// The experiment's id: lower-case letters, digits and hyphens; also the file's name.
    pub id: String,
    /// The bench that simulates it, such as `pumped-loop`; `labquire list` shows which there are.
    pub bench: String,
    /// The school levels that it is for: `lower`, `upper` or both.
    #[schemars(length(min = 1), extend("uniqueItems" = true))]
    pub levels: Vec<Level>,
    /// Minutes of the whole lesson with the kit; the teacher's time plan adds up to them.
    #[schemars(range(min = 1, max = 600))]
    pub minutes: u32,
    /// Its title. The languages of the title are those that every other text must have.
    pub title: Text,
    /// What students are to find out, in a sentence.
    pub aim: Text,
    /// What must lie ready, an entry each.
    pub kit: Vec<Text>,
    /// Hazards by their key word, such as `hot-lamp`; their words come from the program.
    #[schemars(extend("uniqueItems" = true))]
    pub hazards: Vec<String>,
    /// How the bench is set up, step by step.
    pub setting_up: Vec<Step>,
    /// The drawing of the set-up.
    pub picture: Picture,
    /// Inputs of the bench that are the same for all students and told to nobody, such as `flow: 5 g/s`.
    #[serde(default)]
    pub settings: IndexMap<String, Quantity>,
    /// Quantities that differ from student to student, by the name that formulas use.
    pub drawn: IndexMap<String, Drawn>,
    /// Quantities that are the same for all and told to all, by the name that formulas use.
    #[serde(default)]
    pub given: IndexMap<String, Given>,
    /// What the readings are taken with, by the name that readings refer to.
    pub instruments: IndexMap<String, Instrument>,
    /// The table of readings, and what is read once.
    pub readings: Readings,
    /// What a student's readings must fulfil; those that do not are drawn again.
    #[serde(default)]
    pub conditions: Vec<Condition>,
    /// Inputs of the bench that a real run can tell, by their names, the most important first.
    #[serde(default)]
    pub fittable: IndexMap<String, Fittable>,
    /// Likely causes of a real run that differs from what the bench should give, the likeliest first.
    #[serde(default)]
    pub compare: Vec<Cause>,
    /// How far sheets may differ in difficulty.
    #[serde(default)]
    pub fairness: Option<Fairness>,
    /// What of its marks an answer still earns that is not quite right, where the usual does not fit.
    #[serde(default)]
    pub credit: Option<Credit>,
    /// What students are asked, in order.
    #[schemars(length(min = 1))]
    pub tasks: Vec<Task>,
    /// Notes for the teacher.
    pub teacher: Teacher,
}

/// School level.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "lowercase")]
pub enum Level {
    /// Lower secondary.
    Lower,
    /// Upper secondary.
    Upper,
}

impl Level {
    /// The word that stands in files.
    pub fn word(self) -> &'static str {
        match self {
            Self::Lower => "lower",
            Self::Upper => "upper",
        }
    }
}

/// A step of setting up.
#[derive(Debug, Clone, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Step {
    /// What to do.
    pub text: Text,
    /// The hazard that belongs to this step, one of `hazards`.
    #[serde(default)]
    pub caution: Option<String>,
}

/// The drawing of the set-up.
#[derive(Debug, Clone, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Picture {
    /// The drawing's name among the templates.
    pub art: String,
    /// What it shows, for those who cannot see it.
    pub alt: Text,
    /// The words at its leader lines, by the part of the drawing.
    pub labels: IndexMap<String, Text>,
}

/// A condition on a student's readings.
#[derive(Debug, Clone, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Condition {
    /// What must hold: two sides compared by `<`, `<=`, `>` or `>=`, such as `last(T) - first(T) > 20 K`.
    pub holds: String,
    /// Why it is asked for, for the teacher.
    pub why: Text,
}

//! Notes for the teacher. In: YAML. Out: plain data.

use schemars::JsonSchema;
use serde::Deserialize;

use crate::experiment::Text;

/// Notes for the teacher.
#[derive(Debug, Clone, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Teacher {
    /// The physics behind the experiment, a paragraph each.
    pub background: Vec<Text>,
    /// What to check before the lesson.
    pub before: Vec<Text>,
    /// How the lesson runs; its minutes add up to those of the lesson.
    pub time_plan: Vec<Step>,
    /// What students often get wrong.
    pub mistakes: Vec<Text>,
    /// Questions for the class.
    pub questions: Vec<Text>,
}

/// A part of the lesson.
#[derive(Debug, Clone, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Step {
    /// How long it takes, in minutes.
    pub minutes: u32,
    /// What happens.
    pub what: Text,
}

//! Tasks. In: YAML. Out: plain data. Nothing is computed here.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::{Credit, Fairness};
use crate::{class::Edition, experiment::Text};

/// A task: exactly one of `number`, `column`, `graph` and `text` says how it is answered.
#[derive(Debug, Clone, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Task {
    /// Its id: lower-case letters, digits and underscores; formulas of later tasks use it.
    pub id: String,
    /// The editions it stands in; all where left out.
    #[serde(default)]
    #[schemars(length(min = 1), extend("uniqueItems" = true))]
    pub editions: Vec<Edition>,
    /// What is asked. `{m}` sets the symbol of a quantity, `{=m}` its value with unit.
    pub ask: Text,
    /// A help that only the support edition prints.
    #[serde(default)]
    pub help: Option<Text>,
    /// What it is worth, by kind of mark.
    pub marks: Marks,
    /// Answered by a number.
    #[serde(default)]
    pub number: Option<NumberTask>,
    /// Answered by filling in a column of the table.
    #[serde(default)]
    pub column: Option<ColumnTask>,
    /// Answered by a graph.
    #[serde(default)]
    pub graph: Option<GraphTask>,
    /// Answered in words.
    #[serde(default)]
    pub text: Option<TextTask>,
}

/// Marks of a task.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Marks {
    /// For the right relation and substitution.
    #[serde(default)]
    pub method: u32,
    /// For the right number.
    #[serde(default)]
    pub accuracy: u32,
    /// For the unit.
    #[serde(default)]
    pub unit: u32,
    /// One for each point of the rubric.
    #[serde(default)]
    pub points: u32,
}

impl Marks {
    /// All marks of the task.
    pub fn total(self) -> u32 {
        self.method + self.accuracy + self.unit + self.points
    }
}

/// How a number is found.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum Answered {
    /// From printed numbers.
    #[default]
    Calculate,
    /// Read from the student's graph.
    ReadFromGraph,
    /// Slope or intercept of a line that the student draws by hand.
    FromDrawnLine,
    /// From a least-squares fit that a calculator does.
    FromFit,
}

impl Answered {
    /// The word that stands in files.
    pub fn word(self) -> &'static str {
        match self {
            Self::Calculate => "calculate",
            Self::ReadFromGraph => "read-from-graph",
            Self::FromDrawnLine => "from-drawn-line",
            Self::FromFit => "from-fit",
        }
    }
}

/// A task answered by a number.
#[derive(Debug, Clone, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct NumberTask {
    /// Symbol of the answer: letters, then one index behind `_`, such as `P_use`.
    pub symbol: String,
    /// How the answer follows from quantities, readings and earlier answers, such as `m * c * rise`.
    pub formula: String,
    /// Unit of the answer, such as `kJ`; the program proves that the formula gives it.
    pub unit: String,
    /// Significant figures asked for; or `places`.
    #[serde(default)]
    #[schemars(range(min = 1, max = 9))]
    pub figures: Option<u32>,
    /// Decimal places asked for; or `figures`.
    #[serde(default)]
    #[schemars(range(min = 0, max = 9))]
    pub places: Option<u32>,
    /// How it is found.
    #[serde(default)]
    pub how: Answered,
    /// How far sheets may differ in the difficulty of this task, where the bounds of the whole do not fit it.
    #[serde(default)]
    pub fairness: Option<Fairness>,
    /// What of its marks an answer to this task still earns that is not quite right.
    #[serde(default)]
    pub credit: Option<Credit>,
    /// A few words that the key prints before the working of this step; relation and numbers stay as computed.
    #[serde(default)]
    pub step: Option<Text>,
    /// Slips that are likely: their numbers must lie outside the accepted range, and the key prints them.
    #[serde(default)]
    pub slips: Vec<Slip>,
    /// Words that the key prints beside the working. `{m}` sets a symbol, `{=m}` a value with unit.
    #[serde(default)]
    pub note: Option<Text>,
}

/// A likely slip.
#[derive(Debug, Clone, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Slip {
    /// What the student computes, in the answer's dimension: `heat / (12 s)` for minutes taken as seconds,
    /// `power / 1000` for a factor, with the task's own id for the right answer.
    pub formula: String,
    /// What went wrong, in a few words.
    pub says: Text,
}

/// A task answered by a column of the table.
#[derive(Debug, Clone, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct ColumnTask {
    /// Symbol of the column's quantity.
    pub symbol: String,
    /// The formula, which must give a value for each row, such as `T - first(T)`.
    pub formula: String,
    /// Its unit.
    pub unit: String,
    /// Decimal places of each cell.
    #[schemars(range(min = 0, max = 9))]
    pub places: u32,
}

/// A task answered by a graph.
#[derive(Debug, Clone, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct GraphTask {
    /// Column of the table on the horizontal axis.
    pub x: String,
    /// Column of the table on the vertical axis.
    pub y: String,
    /// Further columns on the vertical axis, of the same unit, each with its own marks and curve.
    #[serde(default)]
    pub also: Vec<String>,
    /// The horizontal axis holds zero and a straight line in the key reaches it, as where its intercept is asked for.
    #[serde(default)]
    pub from_zero: bool,
    /// The curve the key shows.
    pub curve: Curve,
    /// Tasks whose answers are marked in the key's graph as horizontal lines; they have the unit of the vertical axis.
    #[serde(default)]
    pub levels: Vec<String>,
    /// Points of the rubric, one mark each.
    pub ticks: Vec<Text>,
}

/// The curve through the points in a key.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum Curve {
    /// An exponential approach to a limit.
    Approach,
    /// A least-squares line.
    Line,
    /// A smooth curve through the points themselves, where no law is to be fitted.
    Smooth,
}

/// A task answered in words.
#[derive(Debug, Clone, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct TextTask {
    /// Lines to write on.
    #[schemars(range(min = 1, max = 40))]
    pub lines: u32,
    /// A model answer.
    pub model: Text,
    /// Points of the rubric, one mark each.
    pub ticks: Vec<Text>,
}

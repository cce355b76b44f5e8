//! How far sheets may differ in difficulty. In: YAML. Out: bounds, each with its default. Nothing is computed here.

use schemars::JsonSchema;
use serde::Deserialize;

/// Bounds on what makes a task harder for one student than for another; what is left out has its default.
#[derive(Debug, Clone, Copy, Default, PartialEq, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Fairness {
    /// By how many the significant figures of the printed answers may differ: 1.
    #[serde(default)]
    #[schemars(range(min = 0, max = 9))]
    pub figures: Option<u32>,
    /// How many times the smallest answer the largest may be: 10.
    #[serde(default)]
    #[schemars(range(min = 1))]
    pub size: Option<f64>,
    /// The least share of the graph paper that the data use: 0.5.
    #[serde(default)]
    #[schemars(range(min = 0, max = 1))]
    pub graph: Option<f64>,
    /// How many times the fewest rows that an answer rests on the most may be: 3.
    #[serde(default)]
    #[schemars(range(min = 1))]
    pub rows: Option<f64>,
    /// The least ratio of an answer to its standard deviation from noise and resolution of the readings: 5.
    #[serde(default)]
    #[schemars(range(min = 0))]
    pub signal: Option<f64>,
}

impl Fairness {
    /// These bounds, and where one is left out, those of another.
    #[must_use]
    pub fn or(self, other: Self) -> Self {
        Self {
            figures: self.figures.or(other.figures),
            size: self.size.or(other.size),
            graph: self.graph.or(other.graph),
            rows: self.rows.or(other.rows),
            signal: self.signal.or(other.signal),
        }
    }

    /// The bound on the difference of figures.
    pub fn figures(self) -> f64 {
        f64::from(self.figures.unwrap_or(1))
    }

    /// The bound on the ratio of sizes.
    pub fn size(self) -> f64 {
        self.size.unwrap_or(10.0)
    }

    /// The least share of graph paper.
    pub fn graph(self) -> f64 {
        self.graph.unwrap_or(0.5)
    }

    /// The bound on the ratio of rows.
    pub fn rows(self) -> f64 {
        self.rows.unwrap_or(3.0)
    }

    /// The least ratio of answer to noise.
    pub fn signal(self) -> f64 {
        self.signal.unwrap_or(5.0)
    }
}

//! What serves real runs: what a fit may find, what an instrument can show, why a run may be off. In: YAML. Out: plain data.
//! Nothing is measured here.

use schemars::JsonSchema;
use serde::Deserialize;

use crate::{experiment::Text, quantity::Quantity};

/// An input of the bench that nobody knows exactly and that a real run can tell.
#[derive(Debug, Clone, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Fittable {
    /// Its symbol: letters, then one index behind `_`, such as `a_1`.
    pub symbol: String,
    /// Its name.
    pub name: Text,
    /// The smallest value that is sensible on a school's bench.
    pub from: Quantity,
    /// The largest.
    pub to: Quantity,
}

/// A likely cause of a run that differs from what the bench should give.
#[derive(Debug, Clone, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Cause {
    /// When to name it: a comparison of the run's columns with the bench's, such as `last(T) < last(bench_T) - 3 K`.
    pub holds: String,
    /// What may be the matter.
    pub says: Text,
}

/// The readings that an instrument can show.
#[derive(Debug, Clone, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Span {
    /// The least, such as `-20 °C`.
    pub from: Quantity,
    /// The most, such as `120 °C`.
    pub to: Quantity,
}

//! Drawn and given quantities. In: YAML. Out: plain data. They must not be drawn here.

use schemars::JsonSchema;
use serde::Deserialize;

use crate::{experiment::Text, quantity::Quantity};

/// A quantity that is drawn for each student.
#[derive(Debug, Clone, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Drawn {
    /// Its symbol, such as `m_w`.
    pub symbol: String,
    /// Its name.
    pub name: Text,
    /// Smallest value.
    pub from: Quantity,
    /// Largest value.
    pub to: Quantity,
    /// Distance of neighbouring values; it also sets the decimals that are printed.
    pub step: Quantity,
    /// The bench's input that it sets; its own name where left out.
    #[serde(default)]
    pub sets: Option<String>,
    /// Whether the student is told.
    pub told: bool,
}

/// A quantity that is the same for all and told to all.
#[derive(Debug, Clone, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Given {
    /// Its symbol.
    pub symbol: String,
    /// Its name.
    pub name: Text,
    /// Its value.
    pub value: Quantity,
    /// The bench's input that it sets, if it sets one.
    #[serde(default)]
    pub sets: Option<String>,
}

//! Drawn and given quantities. In: YAML. Out: plain data. They must not be drawn here.

use schemars::JsonSchema;
use serde::Deserialize;

use crate::{experiment::Text, quantity::Quantity};

/// A quantity that is drawn for each student.
#[derive(Debug, Clone, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Drawn {
    /// Its symbol: letters, then one index behind `_`, such as `m_w`.
    pub symbol: String,
    /// Its name, as the list of quantities prints it.
    pub name: Text,
    /// Smallest value, such as `120 g`.
    pub from: Quantity,
    /// Largest value, in the same unit, whole steps away from the smallest.
    pub to: Quantity,
    /// Distance of neighbouring values; it also sets the decimals that are printed.
    pub step: Quantity,
    /// The bench's input that it sets; left out where the quantity has the name of the input.
    #[serde(default)]
    pub sets: Option<String>,
    /// Whether the sheet tells it; formulas of tasks must not use it else.
    pub told: bool,
}

/// A quantity that is the same for all and told to all.
#[derive(Debug, Clone, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Given {
    /// Its symbol: letters, then one index behind `_`, such as `c_w`.
    pub symbol: String,
    /// Its name, as the list of quantities prints it.
    pub name: Text,
    /// Its value, such as `4.18 kJ/(kg K)`.
    pub value: Quantity,
    /// The bench's input that it sets, if it sets one.
    #[serde(default)]
    pub sets: Option<String>,
}

//! Instruments, table and single readings. In: YAML. Out: plain data. Nothing is read off here.

use indexmap::IndexMap;
use schemars::JsonSchema;
use serde::Deserialize;

use crate::{experiment::Text, quantity::Quantity};

/// An instrument.
#[derive(Debug, Clone, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Instrument {
    /// Its name.
    pub name: Text,
    /// The step of its display.
    pub resolution: Quantity,
    /// Limit of error of its class: the fixed offset of one instrument lies within it.
    pub limit: Quantity,
    /// Limit of error in per cent of the reading, beside the fixed limit.
    #[serde(default)]
    pub limit_percent: f64,
    /// Standard deviation of repeated readings.
    pub noise: Quantity,
}

/// What is read.
#[derive(Debug, Clone, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Readings {
    /// When, or where, rows of the table are taken.
    pub schedule: Schedule,
    /// The columns beside the schedule's own.
    pub table: IndexMap<String, Column>,
    /// What is read once, at the first row of the schedule.
    #[serde(default)]
    pub once: IndexMap<String, Once>,
}

/// The first column of the table.
#[derive(Debug, Clone, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Schedule {
    /// Name of the column, as formulas use it.
    pub column: String,
    /// Its symbol.
    pub symbol: String,
    /// Its name.
    pub name: Text,
    /// Its unit.
    pub unit: String,
    /// First value.
    pub from: Quantity,
    /// Last value.
    pub to: Quantity,
    /// Distance of rows.
    pub every: Quantity,
}

/// A column of readings.
#[derive(Debug, Clone, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Column {
    /// Its symbol.
    pub symbol: String,
    /// Its name.
    pub name: Text,
    /// The state of the bench that is read.
    pub of: String,
    /// The instrument.
    pub with: String,
    /// The unit it is read in.
    pub unit: String,
}

/// A single reading.
pub type Once = Column;

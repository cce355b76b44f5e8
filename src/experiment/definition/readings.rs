//! Instruments, table and single readings. In: YAML. Out: plain data. Nothing is read off here.

use indexmap::IndexMap;
use schemars::JsonSchema;
use serde::Deserialize;

use super::Span;
use crate::{experiment::Text, quantity::Quantity};

/// An instrument.
#[derive(Debug, Clone, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Instrument {
    /// Its name.
    pub name: Text,
    /// The step of its display, such as `0.1 K`; readings are rounded to it.
    pub resolution: Quantity,
    /// Limit of error of its class, such as `0.5 K`: the fixed offset of one instrument lies within it.
    pub limit: Quantity,
    /// Limit of error in per cent of the reading, beside the fixed limit.
    #[serde(default)]
    #[schemars(range(min = 0, max = 100))]
    pub limit_percent: f64,
    /// Standard deviation of repeated readings, such as `0.05 K`.
    pub noise: Quantity,
    /// The readings that it can show; a real run's readings beyond are faults.
    #[serde(default)]
    pub span: Option<Span>,
}

/// What is read.
#[derive(Debug, Clone, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Readings {
    /// When, or where, rows of the table are taken.
    pub schedule: Schedule,
    /// The columns beside the schedule's own, by the name that formulas use.
    pub table: IndexMap<String, Column>,
    /// What is read once, at the first row of the schedule, by the name that formulas use.
    #[serde(default)]
    pub once: IndexMap<String, Once>,
}

/// The first column of the table.
#[derive(Debug, Clone, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Schedule {
    /// Name of the column, as formulas use it, such as `t`.
    pub column: String,
    /// Its symbol.
    pub symbol: String,
    /// Its name.
    pub name: Text,
    /// The unit in the column's head, such as `min`.
    pub unit: String,
    /// First value, such as `0 min`.
    pub from: Quantity,
    /// Last value, whole steps away from the first.
    pub to: Quantity,
    /// Distance of rows, such as `4 min`.
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
    /// The state of the bench that is read, such as `water_temperature`.
    pub of: String,
    /// The instrument, one of `instruments`.
    pub with: String,
    /// The unit it is read in, such as `°C`.
    pub unit: String,
}

/// A single reading.
pub type Once = Column;

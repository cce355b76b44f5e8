//! How a language writes numbers. In: plain decimal text with a point. Out: the text a reader expects.
//! It must never round.

use serde::Deserialize;

/// The signs with which a language writes numbers.
#[derive(Debug, Clone, PartialEq, Eq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Notation {
    /// The decimal sign, `.` or `,`.
    pub decimal: String,
    /// What stands between groups of three digits from five digits on (ISO 80000-1: a thin space).
    pub group: String,
}

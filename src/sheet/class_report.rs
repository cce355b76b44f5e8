//! What a class did and did not understand. In: formatted texts. Out: plain data.

use serde::Serialize;

/// The report of a marked class.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct ClassReport {
    /// Language of the fixed words.
    pub lang: String,
    /// Title of the experiment.
    pub title: String,
    /// The class.
    pub class: String,
    /// What there is with how much of it.
    pub counts: Vec<(String, String)>,
    /// How many students have less than 10 %, less than 20 %, … of the marks.
    pub histogram: Vec<usize>,
    /// The histogram in words.
    pub histogram_alt: String,
    /// Heads of the table of tasks.
    pub heads: Vec<String>,
    /// Its rows.
    pub rows: Vec<Vec<String>>,
    /// The commonest slips with their counts, the commonest first.
    pub slips: Vec<(String, usize)>,
    /// Whom to look at again: student, whose sheet, how many answers of how many, tasks, how probable by chance.
    pub look_again: Vec<[String; 5]>,
}

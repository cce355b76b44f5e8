//! What runs can't tell. In: a fit's spread. Out: the input to hold, and why. It must hold as little as it can.

use super::{problem::Problem, spread::Spread};

/// Share of what is known beforehand, an even spread over the sensible values, above which a run tells nothing of an input.
const TELLS_NOTHING: f64 = 0.5;
/// Correlation above which two inputs are one to the readings.
const AS_ONE: f64 = 0.995;

/// Why an input is held.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Because {
    /// The readings hardly depend on it.
    Untold,
    /// The readings do not tell it from another: that one's name.
    Like(String),
}

impl Because {
    /// The reason in English, as files and terminals have it.
    pub fn words(&self) -> String {
        match self {
            Self::Untold => "the readings hardly depend on it".to_owned(),
            Self::Like(other) => format!("the readings do not tell it from {other}"),
        }
    }
}

/// The place of the input to hold next, the least important first.
pub(super) fn next(problem: &Problem<'_>, spread: &Spread) -> Option<(usize, Because)> {
    let untold = |place: usize| {
        let (from, to) = problem.sought[place].within;
        spread.noise[place] > TELLS_NOTHING * (to - from) / libm::sqrt(12.0)
    };
    let partner = |place: usize| {
        let row = &spread.correlation[place];
        let others = (0..row.len()).filter(|&other| other != place);
        others.max_by(|&one, &other| row[one].abs().total_cmp(&row[other].abs()))
    };
    let because = |place: usize| match partner(place).filter(|&other| spread.correlation[place][other].abs() > 0.9) {
        Some(other) => Because::Like(problem.sought[other].input.name.clone()),
        None => Because::Untold,
    };
    let places = || (0..problem.sought.len()).rev();
    let as_one = |&place: &usize| {
        partner(place).is_some_and(|other| spread.correlation[place][other].abs() > AS_ONE && other < place)
    };
    places().find(|&place| untold(place)).or_else(|| places().find(as_one)).map(|place| (place, because(place)))
}

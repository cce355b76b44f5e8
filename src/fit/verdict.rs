//! What to think of a fit. In: a fit. Out: good, or poor with the reasons. It must word nothing.

use super::BenchFit;

/// Scatter above which the instruments do not explain the residuals.
const SCATTER: f64 = 3.0;
/// Correlation of neighbouring residuals above which they are no noise, and the scatter from which on that matters.
const LAG: f64 = 0.6;
const LAG_MATTERS: f64 = 1.5;
/// Correlation of two inputs that a reader should know of.
const TOGETHER: f64 = 0.95;

/// The verdict.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Verdict {
    /// Why it is poor; none where it is good.
    pub poor: Vec<Reason>,
    /// What else to know.
    pub notes: Vec<Reason>,
}

/// A reason.
#[derive(Debug, Clone, PartialEq)]
pub enum Reason {
    /// Residuals are so many times what the instruments explain.
    Scatter(f64),
    /// Neighbouring residuals go together: the bench does something that its equations lack.
    Pattern(f64),
    /// An input lies at an end of what is sensible.
    AtEnd(String),
    /// Two inputs are hard to tell apart: their names and correlation.
    Together(String, String, f64),
}

impl Verdict {
    /// Whether nothing speaks against the fit.
    pub fn is_good(&self) -> bool {
        self.poor.is_empty()
    }
}

pub(super) fn verdict(fit: &BenchFit) -> Verdict {
    let scatter = (fit.scatter > SCATTER).then_some(Reason::Scatter(fit.scatter));
    let pattern = (fit.lag > LAG && fit.scatter > LAG_MATTERS).then_some(Reason::Pattern(fit.lag));
    let ends = fit.fitted.iter().filter(|one| one.at_end).map(|one| Reason::AtEnd(one.input.clone()));
    let mut notes = Vec::new();
    for (place, one) in fit.fitted.iter().enumerate() {
        for (behind, other) in fit.fitted.iter().enumerate().skip(place + 1) {
            let found = fit.correlation[place][behind];
            if found.abs() > TOGETHER {
                notes.push(Reason::Together(one.input.clone(), other.input.clone(), found));
            }
        }
    }
    Verdict { poor: scatter.into_iter().chain(pattern).chain(ends).collect(), notes }
}

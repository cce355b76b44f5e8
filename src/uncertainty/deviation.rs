//! A deviation as a sum over independent errors. In: coefficients. Out: standard uncertainties, bounds, correlations.
//! It must not be squared before it is complete: what is shared must have the chance to cancel.

use super::Distribution;

/// Independent errors, by number.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Errors(Vec<Distribution>);

impl Errors {
    /// Adds an error and returns its number.
    pub fn add(&mut self, distribution: Distribution) -> usize {
        self.0.push(distribution);
        self.0.len() - 1
    }

    /// The errors with their numbers.
    pub fn iter(&self) -> impl Iterator<Item = (usize, Distribution)> {
        self.0.iter().copied().enumerate()
    }
}

/// The deviation of a quantity, in its SI unit: a coefficient for each error.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Deviation(Vec<f64>);

impl Deviation {
    /// The deviation that is one error, times a factor.
    pub fn of(error: usize, factor: f64) -> Self {
        let mut coefficients = vec![0.0; error + 1];
        coefficients[error] = factor;
        Self(coefficients)
    }

    /// The coefficient of an error.
    pub fn coefficient(&self, error: usize) -> f64 {
        self.0.get(error).copied().unwrap_or(0.0)
    }

    /// Adds another deviation, times a factor.
    pub fn add(&mut self, other: &Self, factor: f64) {
        if self.0.len() < other.0.len() {
            self.0.resize(other.0.len(), 0.0);
        }
        for (own, other) in self.0.iter_mut().zip(&other.0) {
            *own += factor * other;
        }
    }

    /// The standard uncertainty (JCGM 100:2008, equation 10).
    pub fn standard(&self, errors: &Errors) -> f64 {
        libm::sqrt(self.covariance(self, errors))
    }

    /// The covariance with another deviation (JCGM 100:2008, F.1.2.3).
    pub fn covariance(&self, other: &Self, errors: &Errors) -> f64 {
        self.sum(errors, |error, distribution| {
            let standard = distribution.standard();
            self.coefficient(error) * other.coefficient(error) * standard * standard
        })
    }

    /// The covariance by errors that know no bounds.
    pub(super) fn boundless_covariance(&self, other: &Self, errors: &Errors) -> f64 {
        self.sum(errors, |error, distribution| match distribution {
            Distribution::Normal(standard) => self.coefficient(error) * other.coefficient(error) * standard * standard,
            Distribution::Rectangular(_) => 0.0,
        })
    }

    /// The standard uncertainty by errors that know no bounds.
    pub fn boundless(&self, errors: &Errors) -> f64 {
        libm::sqrt(self.boundless_covariance(self, errors))
    }

    /// How far the bounded errors among `wanted` can move it if all are at their worst.
    pub fn worst(&self, errors: &Errors, wanted: impl Fn(usize) -> bool) -> f64 {
        self.sum(errors, |error, distribution| match distribution.reach() {
            Some(reach) if wanted(error) => self.coefficient(error).abs() * reach,
            _ => 0.0,
        })
    }

    fn sum(&self, errors: &Errors, term: impl Fn(usize, Distribution) -> f64) -> f64 {
        errors.iter().take(self.0.len()).map(|(error, distribution)| term(error, distribution)).sum()
    }
}

//! How far a step is from the truth. In: its stages, the rates at its start, the steepest slope. Out: the error as a share of
//! what is allowed, and the growth that the next step may have. It must know no balances.
//!
//! The rates on a step are a sum of Legendre polynomials. How large the last ones are bounds the error from above: that is
//! all that can be said where the rates have a kink. Where the sum converges, the step is better by as much again, as its
//! error is the product of what is missing from the sum and the like of what is missing from the response of the system to a
//! disturbance, `exp(−z)` over a step with `z = h · slope`. The credit given for it is the larger of both estimates.
//! Compared with the embedded formula of Hairer and Wanner, which must be used with loosened tolerances that fail at kinks,
//! this is an estimate of the true error. Own derivation; measured in the head of [`super`].

use super::{
    radau::{LAST_MODES, START},
    stages::{Stages, weighted},
};

/// The allowed error is divided by this, as the errors of many steps add.
const STRICT: f64 = 10.0;

/// Half of the credit is lost where the response changes by so many powers of e over a step.
const WIDTH: f64 = 7.0;

/// Above this share of decay per two orders a sum does not converge: the error falls like a low power of the step.
const ROUGH: f64 = 0.25;

/// How far a step is from the truth.
pub(super) struct Misfit {
    /// The error at its end, as a share of what is allowed.
    pub(super) error: f64,
    /// How much longer the next step may get.
    pub(super) growth: f64,
    /// The error of the polynomial through its stages anywhere within the step, as a share of what is allowed.
    pub(super) within: f64,
}

/// Of a step with these stages that started with rates which alone would give these changes.
pub(super) fn misfit<const N: usize>(
    stages: &Stages<N>,
    changes: &[f64; N],
    scale: &[f64; N],
    response: f64,
) -> Misfit {
    let [last, before, earlier] = LAST_MODES.map(|weights| weighted(&weights, stages));
    let start = weighted(&START, stages);
    let share = response / (response + WIDTH);
    let square = share * share;
    let inherent = if response.is_finite() { square * square * square } else { 1.0 };
    let mut worst = (0.0, 0.0);
    let mut within = 0.0;
    for state in 0..N {
        // The next polynomial is what the rates at the start of the step deviate by: two is its value there.
        let next = (start[state] - changes[state]).abs() / 2.0;
        let high = next + last[state].abs();
        let low = before[state].abs() + earlier[state].abs();
        let decay = if high < low { high / low } else { 1.0 };
        // What is missing from the sum is the error within the step; at its end it cancels in good part.
        let missing = STRICT * (next + libm::sqrt(decay) * last[state].abs()) * scale[state];
        within = if missing > within || missing.is_nan() { missing } else { within };
        let error = missing * decay.max(inherent);
        if error > worst.0 || error.is_nan() {
            worst = (error, decay);
        }
    }
    Misfit { error: worst.0, growth: growth(worst.0, worst.1), within }
}

/// How much longer a step may get: a safe part of the root that belongs to the order.
fn growth(error: f64, decay: f64) -> f64 {
    let fourth = libm::sqrt(libm::sqrt(error));
    if error == 0.0 {
        f64::INFINITY
    } else if decay > ROUGH {
        0.9 / fourth
    } else {
        0.95 / libm::sqrt(libm::sqrt(fourth))
    }
}

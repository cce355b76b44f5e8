//! The equations of the stages of one step. In: balances, the place, a guess. Out: the stages, by Newton's method with slopes
//! held fixed, and how fast it converged. It must not choose the step.
//!
//! With the eigenvectors T of the method, `W = T⁻¹ Z` of the stages Z, the equations `A⁻¹ Z = h f(Z)` fall apart into one real
//! and three complex systems as large as the balances. Source: Hairer and Wanner, Solving Ordinary Differential Equations II,
//! section IV.8.

use super::{
    Balances,
    complex::Complex,
    factors::Factors,
    radau::{FROM_PARTS, INTO_PARTS, NODES, PAIRS, REAL},
    slopes::Slopes,
    stages::{Stages, product},
};

/// More rounds than this are not worth while: a shorter step is.
const ROUNDS: usize = 10;

/// The factors of a step's equations.
pub(super) struct Equations<const N: usize> {
    step: f64,
    real: Factors<f64, N>,
    pairs: [Factors<Complex, N>; PAIRS.len()],
}

/// Where a step starts, and how exact its stages are to be.
pub(super) struct Place<'a, const N: usize> {
    pub(super) time: f64,
    pub(super) states: &'a [f64; N],
    /// One over the change of each state that counts as one.
    pub(super) scale: [f64; N],
    /// The largest such change that may be left.
    pub(super) limit: f64,
}

impl<const N: usize> Equations<N> {
    /// The equations of a step of a length in s.
    pub(super) fn new(step: f64, slopes: &Slopes<N>) -> Self {
        Self {
            step,
            real: Factors::new(REAL, step, slopes),
            pairs: PAIRS.map(|shift| Factors::new(shift, step, slopes)),
        }
    }

    /// The length of the step that they are for, s.
    pub(super) fn step(&self) -> f64 {
        self.step
    }

    /// The stages, from a guess; none where the rounds do not converge. `rate` is by how much the error shrinks per round:
    /// expected when it comes in, found when it goes out.
    pub(super) fn solve<B: Balances<N>>(
        &self,
        balances: &B,
        slopes: &Slopes<N>,
        place: &Place<N>,
        guess: Stages<N>,
        rate: &mut f64,
    ) -> Option<Stages<N>> {
        let mut stages = guess;
        let mut parts = product(&INTO_PARTS, &stages);
        let mut before = f64::INFINITY;
        // The rate found last may flatter this step, the more so the longer none has been found.
        let mut expected = (5.0 * *rate).clamp(1e-6, 0.5);
        *rate = expected;
        for round in 0..ROUNDS {
            let change = self.change(balances, slopes, place, &stages, &parts);
            add(&mut parts, &change);
            let change = product(&FROM_PARTS, &change);
            add(&mut stages, &change);
            let size = size(&change, &place.scale);
            if !size.is_finite() {
                return None;
            }
            if round > 0 {
                let now = size / before;
                expected = if round == 1 { now } else { libm::sqrt(now * expected) };
                *rate = expected;
                if expected >= 0.9 {
                    return None;
                }
            }
            before = size;
            let mut left = size * expected / (1.0 - expected);
            if left <= place.limit {
                return Some(stages);
            }
            if round > 0 {
                for _ in round + 1..ROUNDS {
                    left *= expected;
                }
                if left > place.limit {
                    return None;
                }
            }
        }
        None
    }

    /// By how much a round changes the parts.
    fn change<B: Balances<N>>(
        &self,
        balances: &B,
        slopes: &Slopes<N>,
        place: &Place<N>,
        stages: &Stages<N>,
        parts: &Stages<N>,
    ) -> Stages<N> {
        let rates: Stages<N> = std::array::from_fn(|stage| {
            let states = std::array::from_fn(|state| place.states[state] + stages[stage][state]);
            balances.rates(place.time + NODES[stage] * self.step, &states).map(|rate| rate * self.step)
        });
        let mut change = product(&INTO_PARTS, &rates);
        for (change, part) in change[0].iter_mut().zip(&parts[0]) {
            *change -= REAL * part;
        }
        self.real.solve(self.step, slopes, &mut change[0]);
        for (pair, (&shift, factors)) in PAIRS.iter().zip(&self.pairs).enumerate() {
            let (first, second) = (1 + 2 * pair, 2 + 2 * pair);
            let mut sides: [Complex; N] = std::array::from_fn(|state| {
                let side = Complex::new(change[first][state], -change[second][state]);
                side - shift * Complex::new(parts[first][state], -parts[second][state])
            });
            factors.solve(self.step, slopes, &mut sides);
            change[first] = sides.map(|side| side.re);
            change[second] = sides.map(|side| -side.im);
        }
        change
    }
}

fn add<const N: usize>(stages: &mut Stages<N>, change: &Stages<N>) {
    for (stage, change) in stages.iter_mut().zip(change) {
        for (value, change) in stage.iter_mut().zip(change) {
            *value += change;
        }
    }
}

/// The largest change of all; not finite where one is not.
fn size<const N: usize>(change: &Stages<N>, scale: &[f64; N]) -> f64 {
    let mut largest = 0.0;
    for stage in change {
        for (value, scale) in stage.iter().zip(scale) {
            let value = value.abs() * scale;
            if value > largest || value.is_nan() {
                largest = value;
            }
        }
    }
    largest
}

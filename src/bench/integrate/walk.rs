//! The walk through time, step by step. In: balances, a start, places to stop at. Out: the states there.
//! A step must end where a state is asked for, so that nothing is ever read between steps.

use super::{
    super::BenchError,
    Balances,
    equations::{Equations, Place},
    misfit::misfit,
    radau::{END, NODES, STAGES},
    slopes::Slopes,
    stages::{Stages, beyond, weighted},
};

/// Enough for a kink in every minute of some days.
const MOST_STEPS: usize = 200_000;

/// The stages are solved to this share of the tolerance: what is left of it must not look like an error of the step.
const SOLVED: f64 = 0.02;

/// No stages are solved to more than this, relative: rounding would hide it.
const ROUNDING: f64 = 4e-15;

/// Slopes are kept while each round shrinks the error by this or more.
const KEPT: f64 = 3e-3;

/// With slower rounds, states that seemed passive are looked at again.
const SLOW: f64 = 0.1;

/// A step grows at most so much over the one before; less after one that failed.
const GROWTH: (f64, f64) = (8.0, 1.5);

/// A walk on its way.
pub(super) struct Walk<'a, B, const N: usize> {
    balances: &'a B,
    tolerance: f64,
    time: f64,
    states: [f64; N],
    /// The rates at this time.
    rates: [f64; N],
    /// The length that the next step may have, s.
    step: f64,
    slopes: Slopes<N>,
    /// Whether the slopes were found for this step.
    fresh: bool,
    equations: Option<Equations<N>>,
    /// By how much rounds shrink the error.
    rate: f64,
    last: Option<(f64, Stages<N>)>,
    steps: usize,
}

impl<'a, B: Balances<N>, const N: usize> Walk<'a, B, N> {
    /// At time zero.
    pub(super) fn new(balances: &'a B, states: [f64; N], tolerance: f64) -> Self {
        let mut slopes = Slopes::unknown();
        slopes.find(balances, 0.0, &states, true);
        Self {
            balances,
            tolerance,
            time: 0.0,
            states,
            rates: balances.rates(0.0, &states),
            // An infinite step is cut where a state is asked for.
            step: 1.0 / slopes.steepest(),
            slopes,
            fresh: true,
            equations: None,
            rate: 1.0,
            last: None,
            steps: 0,
        }
    }

    /// Walks on to a time in s and gives the states there.
    pub(super) fn advance(&mut self, end: f64) -> Result<[f64; N], BenchError> {
        let mut failed = false;
        while self.time < end {
            let left = end - self.time;
            let last = self.step >= left;
            let step = if last { left } else { self.step.min(left / 2.0) };
            self.check(step, end)?;
            let Some(stages) = self.solve(step) else {
                // With slopes from elsewhere, better ones may help; else only a shorter step does.
                self.step = if self.fresh { 0.4 * step } else { step };
                (self.fresh, self.rate, failed) = (false, 1.0, true);
                continue;
            };
            let (error, growth) = self.misfit(step, &stages);
            if error > 1.0 {
                self.step = step * growth.clamp(0.1, 0.7);
                // As found with the stages they may be wrong by more than a short step allows.
                self.rates = self.balances.rates(self.time, &self.states);
                failed = true;
                continue;
            }
            let longest = step * growth.min(if failed { GROWTH.1 } else { GROWTH.0 });
            // A step that was cut for a stop says little against the longer one that was meant.
            self.step = if growth >= 1.0 { longest.max(self.step) } else { longest };
            self.time = if last { end } else { self.time + step };
            for (state, change) in self.states.iter_mut().zip(&stages[STAGES - 1]) {
                *state += change;
            }
            self.rates = weighted(&END, &stages).map(|rate| rate / step);
            self.last = Some((step, stages));
            (self.fresh, failed) = (false, false);
        }
        Ok(self.states)
    }

    fn check(&mut self, step: f64, end: f64) -> Result<(), BenchError> {
        self.steps += 1;
        let time = self.time;
        if !self.rates.iter().chain(&self.states).all(|value| value.is_finite()) {
            Err(BenchError::Solver(format!("at {time} s a state or its rate left the range of numbers")))
        } else if self.steps > MOST_STEPS {
            Err(BenchError::Solver(format!("more than {MOST_STEPS} steps were needed, {time} s were reached")))
        } else if step <= 1e-15 * end {
            Err(BenchError::Solver(format!("at {time} s no step was small enough")))
        } else {
            Ok(())
        }
    }

    /// The stages of a step; none where they cannot be found.
    fn solve(&mut self, step: f64) -> Option<Stages<N>> {
        let guess = match &self.last {
            Some((last, stages)) if step <= GROWTH.0 * last => beyond(stages, step / last),
            _ => [[0.0; N]; STAGES],
        };
        if !self.fresh && self.rate > KEPT {
            let middle = STAGES / 2;
            let states = std::array::from_fn(|state| self.states[state] + guess[middle][state]);
            self.slopes.find(self.balances, self.time + NODES[middle] * step, &states, self.rate > SLOW);
            (self.fresh, self.equations) = (true, None);
        }
        let place = Place {
            time: self.time,
            states: &self.states,
            scale: self.scale(&guess[STAGES - 1]),
            limit: SOLVED.max(ROUNDING / self.tolerance),
        };
        let equations = match self.equations.take() {
            Some(equations) if equations.step() == step => equations,
            _ => Equations::new(step, &self.slopes),
        };
        let stages = equations.solve(self.balances, &self.slopes, &place, guess, &mut self.rate);
        self.equations = Some(equations);
        stages
    }

    /// One over the error of each state that is allowed in a step.
    fn scale(&self, change: &[f64; N]) -> [f64; N] {
        std::array::from_fn(|state| {
            let (before, after) = (self.states[state], self.states[state] + change[state]);
            1.0 / (self.tolerance * (1.0 + before.abs().max(after.abs())))
        })
    }

    fn misfit(&self, step: f64, stages: &Stages<N>) -> (f64, f64) {
        let changes = self.rates.map(|rate| rate * step);
        misfit(stages, &changes, &self.scale(&stages[STAGES - 1]), step * self.slopes.steepest())
    }
}

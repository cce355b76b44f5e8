//! The walk through time, step by step. In: balances, a start, places to stop at. Out: the states there.
//! A step ends where a state is asked for, unless many are asked for close to each other: then it passes some of them, as long as
//! they can be read off its polynomial as exactly.

use super::{
    super::BenchError,
    Balances,
    equations::{Equations, Place},
    misfit::{Misfit, misfit},
    radau::{END, NODES, STAGES},
    slopes::Slopes,
    stages::{Stages, beyond, weighted, within},
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
    /// The length of a step that may be read within as well, s.
    legible: f64,
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
            legible: 0.0,
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
            let Misfit { error, growth, within } = self.misfit(step, &stages);
            self.legible = step * legible_growth(within);
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
            self.arrive(if last { end } else { self.time + step }, step, stages);
            failed = false;
        }
        Ok(self.states)
    }

    /// How many of the ascending times the next step may pass, to be read within it.
    pub(super) fn passed(&self, times: &[f64]) -> usize {
        let reach = self.time + self.legible.min(self.step);
        times.partition_point(|&time| time <= reach)
    }

    /// The states at each of the ascending times, all within one step to the last of them; none where such a step fails, after
    /// which a shorter one is expected.
    pub(super) fn stride(&mut self, times: &[f64]) -> Result<Option<Vec<[f64; N]>>, BenchError> {
        let Some(&end) = times.last() else { return Ok(None) };
        let (start, step) = (self.time, end - self.time);
        self.check(step, end)?;
        let Some(stages) = self.solve(step) else {
            (self.legible, self.fresh, self.rate) = (0.5 * step, false, 1.0);
            return Ok(None);
        };
        let Misfit { error, growth, within: missing } = self.misfit(step, &stages);
        self.legible = step * legible_growth(missing);
        if error > 1.0 || missing > 1.0 {
            self.legible = self.legible.min(0.7 * step);
            self.rates = self.balances.rates(self.time, &self.states);
            return Ok(None);
        }
        let before = self.states;
        let read = |&time: &f64| {
            let change = within(&stages, (time - start) / step);
            std::array::from_fn(|state| before[state] + change[state])
        };
        let mut found: Vec<[f64; N]> = times[..times.len() - 1].iter().map(read).collect();
        self.step = self.step.max(step * growth.min(GROWTH.0));
        self.arrive(end, step, stages);
        found.push(self.states);
        Ok(Some(found))
    }

    /// Takes over what a step has led to.
    fn arrive(&mut self, time: f64, step: f64, stages: Stages<N>) {
        self.time = time;
        for (state, change) in self.states.iter_mut().zip(&stages[STAGES - 1]) {
            *state += change;
        }
        self.rates = weighted(&END, &stages).map(|rate| rate / step);
        self.last = Some((step, stages));
        self.fresh = false;
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

    fn misfit(&self, step: f64, stages: &Stages<N>) -> Misfit {
        let changes = self.rates.map(|rate| rate * step);
        misfit(stages, &changes, &self.scale(&stages[STAGES - 1]), step * self.slopes.steepest())
    }
}

/// How much longer a step may be that is read within: a safe part of the root that belongs to the order of the polynomial, 8.
fn legible_growth(within: f64) -> f64 {
    let eighth = libm::sqrt(libm::sqrt(libm::sqrt(within)));
    if within.is_nan() { 0.1 } else { (0.9 / eighth).clamp(0.1, GROWTH.0) }
}

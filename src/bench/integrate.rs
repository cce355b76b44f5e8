//! Solves the balances of a bench in time. In: a right-hand side, start values, times. Out: states at these times.
//! It must know no physics.
//!
//! The method is Dormand and Prince's of order 5 with error control. Measured on the pumped loop for an hour, at a tolerance
//! of 1e-10 against the same crate's order 8 at 1e-13: order 5 errs by 1e-8 K; order 8, as costly, by 2e-7 K between its
//! steps; the implicit Radau method takes a sixth of the time, but errs by up to 4e-3 K whatever the tolerance. A plate with
//! a time constant of a second binds the explicit steps to some seconds and triples the cost, which stays near a millisecond.

use differential_equations::{
    error::Error,
    methods::ExplicitRungeKutta,
    prelude::{IVP, ODE},
};

use super::BenchError;

/// Relative and absolute tolerance of the solver; the states of the benches are of the order of 10² K and 10⁵ J.
pub(crate) const TOLERANCE: f64 = 1e-10;

/// Enough for some days at the shortest steps that a bench asks for.
const MOST_STEPS: usize = 2_000_000;

/// A system of balances: `rates` gives the change per second of `N` states.
pub(crate) trait Balances<const N: usize> {
    /// The rates of change at a time in seconds.
    fn rates(&self, time: f64, states: &[f64; N]) -> [f64; N];
}

struct System<'a, B>(&'a B);

impl<B: Balances<N>, const N: usize> ODE<f64, [f64; N]> for System<'_, B> {
    fn diff(&self, time: f64, states: &[f64; N], rates: &mut [f64; N]) {
        *rates = self.0.rates(time, states);
    }
}

/// The states at each of the ascending times (s), starting from `start` at time zero.
///
/// # Errors
/// [`BenchError::Order`] where the times do not ascend from zero or above, [`BenchError::Solver`] where the solver gives up.
pub(crate) fn integrate<B: Balances<N>, const N: usize>(
    balances: &B,
    start: [f64; N],
    times: &[f64],
    tolerance: f64,
) -> Result<Vec<[f64; N]>, BenchError> {
    ascending(times)?;
    let end = times.last().copied().unwrap_or(0.0);
    if end <= 0.0 {
        return Ok(vec![start; times.len()]);
    }
    let system = System(balances);
    let solution = IVP::ode(&system, 0.0, end, start)
        .method(ExplicitRungeKutta::dopri5().rtol(tolerance).atol(tolerance).max_steps(MOST_STEPS))
        .t_eval(times)
        .solve()
        .map_err(|error| BenchError::Solver(reason(&error)))?;
    let states: Vec<[f64; N]> = solution.iter().map(|(_, states)| *states).collect();
    if states.len() == times.len() && states.iter().flatten().all(|value| value.is_finite()) {
        Ok(states)
    } else {
        Err(BenchError::Solver("a state left the range of numbers".to_owned()))
    }
}

/// Checks that the places at which a run is read ascend from zero or above.
///
/// # Errors
/// [`BenchError::Order`] for the first out of order.
pub(crate) fn ascending(times: &[f64]) -> Result<(), BenchError> {
    let mut before = None;
    for &value in times {
        if !(value.is_finite() && value >= 0.0 && before.is_none_or(|before| value > before)) {
            return Err(BenchError::Order { value });
        }
        before = Some(value);
    }
    Ok(())
}

fn reason<const N: usize>(error: &Error<f64, [f64; N]>) -> String {
    match error {
        Error::MaxSteps { t, .. } => format!("more than {MOST_STEPS} steps were needed, {t} s were reached"),
        Error::StepSize { t, .. } => format!("at {t} s no step was small enough"),
        Error::Stiffness { t, .. } => format!("at {t} s one part changes too fast for the others"),
        other => format!("{other:?}"),
    }
}

//! Solves the balances of a bench in time. In: a right-hand side, start values, times. Out: states at these times.
//! It must know no physics.

use differential_equations::{
    methods::ExplicitRungeKutta,
    prelude::{IVP, Matrix, ODE},
};

use super::BenchError;

/// Relative tolerance of the solver; the states of the benches are of the order of 10² K and 10⁵ J.
pub(crate) const TOLERANCE: f64 = 1e-10;

/// A system of balances: `rates` gives the change per second of `N` states.
pub(crate) trait Balances<const N: usize> {
    /// The rates of change at a time in seconds.
    fn rates(&self, time: f64, states: &[f64; N]) -> [f64; N];
}

struct System<'a, B, const N: usize>(&'a B);

impl<B: Balances<N>, const N: usize> ODE<f64, [f64; N]> for System<'_, B, N> {
    fn diff(&self, time: f64, states: &[f64; N], rates: &mut [f64; N]) {
        *rates = self.0.rates(time, states);
    }

    fn jacobian(&self, time: f64, states: &[f64; N], matrix: &mut Matrix<f64>) {
        let base = self.0.rates(time, states);
        for column in 0..N {
            let step = 1e-7 * states[column].abs().max(1.0);
            let mut moved = *states;
            moved[column] += step;
            let changed = self.0.rates(time, &moved);
            for row in 0..N {
                matrix[(row, column)] = (changed[row] - base[row]) / step;
            }
        }
    }
}

/// The states at each of the ascending times (s), starting from `start` at time zero.
///
/// Dormand and Prince's method of order 8 with error control: the plates of the benches settle within some ten seconds,
/// so that its steps stay within stability without becoming many.
///
/// # Errors
/// [`BenchError::Solver`] where the solver gives up.
pub(crate) fn integrate<B: Balances<N>, const N: usize>(
    balances: &B,
    start: [f64; N],
    times: &[f64],
    tolerance: f64,
) -> Result<Vec<[f64; N]>, BenchError> {
    let end = times.last().copied().unwrap_or(0.0);
    if end <= 0.0 {
        return Ok(vec![start; times.len()]);
    }
    let system = System(balances);
    let solution = IVP::ode(&system, 0.0, end, start)
        .method(ExplicitRungeKutta::dop853().rtol(tolerance).atol(tolerance).max_steps(200_000))
        .t_eval(times)
        .solve()
        .map_err(|error| BenchError::Solver(format!("{error:?}")))?;
    let states: Vec<[f64; N]> = solution.iter().map(|(_, states)| *states).collect();
    if states.len() == times.len() && states.iter().flatten().all(|value| value.is_finite()) {
        Ok(states)
    } else {
        Err(BenchError::Solver("a state left the range of numbers".to_owned()))
    }
}

//! Balances whose solutions are known. In: closed forms and published values. Out: checks of the solver.

use super::{Balances, TOLERANCE, integrate};
use crate::bench::BenchError;

/// Balances given by a function.
struct Given<F>(F);

impl<F: Fn(f64, &[f64; N]) -> [f64; N], const N: usize> Balances<N> for Given<F> {
    fn rates(&self, time: f64, states: &[f64; N]) -> [f64; N] {
        (self.0)(time, states)
    }
}

#[test]
fn a_body_cools_exponentially_and_its_loss_is_summed() {
    // Closed form: y = exp(−t / 600), and what is lost is 1 − y.
    let cooling = Given(|_, &[y, _]: &[f64; 2]| [-y / 600.0, y / 600.0]);
    let times = [0.0, 1.0, 60.0, 600.0, 7200.0];
    let found = integrate(&cooling, [1.0, 0.0], &times, TOLERANCE).unwrap();
    for (&[y, lost], time) in found.iter().zip(times) {
        let exact = libm::exp(-time / 600.0);
        assert!((y - exact).abs() < 1e-10 && (lost - (1.0 - exact)).abs() < 1e-10, "{y} at {time} s");
    }
}

#[test]
fn a_stiff_pair_follows_its_slow_part() {
    // Closed form: eigenvalues −1 and −1000, y = 2 e^(−t) − e^(−1000 t), z = −e^(−t) + e^(−1000 t).
    // Source: Gear's linear example, in Press et al., Numerical Recipes, section 16.6 (quoted from memory).
    let stiff = Given(|_, &[y, z]: &[f64; 2]| [998.0 * y + 1998.0 * z, -999.0 * y - 1999.0 * z]);
    let times = [1e-3, 0.1, 1.0, 10.0];
    let found = integrate(&stiff, [1.0, 0.0], &times, TOLERANCE).unwrap();
    for (&[y, z], time) in found.iter().zip(times) {
        let (slow, fast) = (libm::exp(-time), libm::exp(-1000.0 * time));
        assert!((y - (2.0 * slow - fast)).abs() < 1e-9 && (z - (fast - slow)).abs() < 1e-9, "{y}, {z} at {time} s");
    }
}

#[test]
fn states_read_close_to_each_other_are_as_exact() {
    // The closed forms of the two tests above, at a thousand times, which most steps pass.
    let cooling = Given(|_, &[y, _]: &[f64; 2]| [-y / 600.0, y / 600.0]);
    let stiff = Given(|_, &[y, z]: &[f64; 2]| [998.0 * y + 1998.0 * z, -999.0 * y - 1999.0 * z]);
    let times: Vec<f64> = (0..1000).map(|row| f64::from(row) * 0.01).collect();
    let cooled = integrate(&cooling, [1.0, 0.0], &times, TOLERANCE).unwrap();
    let followed = integrate(&stiff, [1.0, 0.0], &times, TOLERANCE).unwrap();
    for ((&[y, lost], &[u, v]), time) in cooled.iter().zip(&followed).zip(times) {
        let exact = libm::exp(-time / 600.0);
        assert!((y - exact).abs() < 1e-10 && (lost - (1.0 - exact)).abs() < 1e-10, "{y} at {time} s");
        let (slow, fast) = (libm::exp(-time), libm::exp(-1000.0 * time));
        assert!((u - (2.0 * slow - fast)).abs() < 1e-9 && (v - (fast - slow)).abs() < 1e-9, "{u}, {v} at {time} s");
    }
}

#[test]
fn a_forced_swing_is_followed() {
    // Closed form: y = sin t solves y' = v, v' = −y; neither stiff nor damped, over 16 turns.
    let swing = Given(|_, &[y, v]: &[f64; 2]| [v, -y]);
    let found = integrate(&swing, [0.0, 1.0], &[10.0, 100.0], TOLERANCE).unwrap();
    assert!((found[1][0] - libm::sin(100.0)).abs() < 1e-8, "{}", found[1][0]);
}

#[test]
fn robertsons_reaction_ends_where_published() {
    // Hairer and Wanner, test set for stiff solvers, ROBER at t = 40; y = 0.7158270687193941 from memory.
    let reaction = Given(|_, &[a, b, c]: &[f64; 3]| {
        let (first, second, third) = (0.04 * a, 3e7 * b * b, 1e4 * b * c);
        [third - first, first - third - second, second]
    });
    let found = integrate(&reaction, [1.0, 0.0, 0.0], &[40.0], 1e-13).unwrap();
    assert!((found[0][0] - 0.715_827_068_719_394).abs() < 1e-9, "{}", found[0][0]);
    assert!((found[0].iter().sum::<f64>() - 1.0).abs() < 1e-12);
}

#[test]
fn a_kink_is_found() {
    // Closed form: y' = max(0, t − 1) gives (t − 1)² / 2; y' = −|y| y − 1 from y = 1 passes zero at π/4 and is −tanh after it.
    let late = Given(|time: f64, _: &[f64; 1]| [(time - 1.0).max(0.0)]);
    let found = integrate(&late, [0.0], &[10.0], TOLERANCE).unwrap();
    assert!((found[0][0] - 40.5).abs() < 1e-8, "{}", found[0][0]);
    let drag = Given(|_, &[y]: &[f64; 1]| [-y.abs() * y - 1.0]);
    let found = integrate(&drag, [1.0], &[2.0], TOLERANCE).unwrap();
    let exact = -libm::tanh(2.0 - std::f64::consts::FRAC_PI_4);
    assert!((found[0][0] - exact).abs() < 1e-9, "{} is not {exact}", found[0][0]);
}

#[test]
fn a_state_that_seemed_passive_at_the_start_is_noticed() {
    // Closed form: z = t, and y' = 1000 (max(0, z − 1) − y) gives y = t − 1 − (1 − exp(−1000 (t − 1))) / 1000 after t = 1.
    let late = Given(|_, &[y, z]: &[f64; 2]| [1000.0 * ((z - 1.0).max(0.0) - y), 1.0]);
    let found = integrate(&late, [0.0, 0.0], &[5.0], TOLERANCE).unwrap();
    assert!((found[0][0] - 3.999).abs() < 1e-8, "{}", found[0][0]);
}

#[test]
fn what_cannot_be_solved_is_refused_in_words() {
    // y' = y² ends at t = 1, where y is infinite.
    let bursts = Given(|_, &[y]: &[f64; 1]| [y * y]);
    let nothing = Given(|_, _: &[f64; 1]| [f64::NAN]);
    for found in [integrate(&bursts, [1.0], &[2.0], TOLERANCE), integrate(&nothing, [1.0], &[2.0], TOLERANCE)] {
        assert!(matches!(found, Err(BenchError::Solver(_))), "{found:?}");
    }
}

//! The zero of a falling function. In: a bracket and a function. Out: the place where it vanishes.
//! Only basic operations, so that the result is the same on every machine. It must not ask for values at the bracket's ends,
//! where a function need not be defined.
//!
//! The bracket is halved until the function is known at both ends. Then secants narrow it: one to where the line through both
//! ends vanishes, one of twice the length from the better end, so that the other end comes near as well. Where both do not
//! halve the bracket, a halving does. Source: Alefeld, Potra and Shi, Algorithm 748, ACM Transactions on Mathematical
//! Software 21 (1995), 327; simplified to lines.

/// No bracket of two numbers takes more halvings that matter.
const ROUNDS: usize = 200;

/// An end of the bracket, and the function there.
type End = (f64, f64);

/// Where a function that falls from positive to negative between `low` and `high` is zero, to the last bit.
pub(crate) fn falling(low: f64, high: f64, function: impl Fn(f64) -> f64) -> f64 {
    let mut bracket = Bracket { low: (low, f64::NAN), high: (high, f64::NAN) };
    for _ in 0..ROUNDS {
        let width = bracket.high.0 - bracket.low.0;
        if bracket.known() {
            bracket.try_at(bracket.secant(1.0), &function);
            bracket.try_at(bracket.secant(2.0), &function);
        }
        let halved = bracket.high.0 - bracket.low.0 <= width / 2.0;
        if !halved && !bracket.try_at(bracket.middle(), &function) {
            break;
        }
    }
    bracket.middle()
}

struct Bracket {
    low: End,
    high: End,
}

impl Bracket {
    fn middle(&self) -> f64 {
        self.low.0 + (self.high.0 - self.low.0) / 2.0
    }

    /// Whether the function is known, and finite, at both ends.
    fn known(&self) -> bool {
        self.low.1.is_finite() && self.high.1.is_finite()
    }

    /// A place on the line through both ends: so many times as far from the end where the function is smaller as the line's
    /// zero, but one number away at least.
    fn secant(&self, times: f64) -> f64 {
        let ((low, above), (high, below)) = (self.low, self.high);
        let per_value = (high - low) / (above - below);
        if above < -below {
            (low + times * above * per_value).max(low.next_up())
        } else {
            (high + times * below * per_value).min(high.next_down())
        }
    }

    /// Narrows the bracket by the function at a place; not where the place is not inside.
    fn try_at(&mut self, place: f64, function: &impl Fn(f64) -> f64) -> bool {
        let inside = place > self.low.0 && place < self.high.0;
        if inside {
            let value = function(place);
            let end = if value > 0.0 { &mut self.low } else { &mut self.high };
            *end = (place, value);
        }
        inside
    }
}

#[cfg(test)]
mod tests {
    use super::falling;
    use std::cell::Cell;

    /// The zero, and how often the function was asked.
    fn counted(low: f64, high: f64, function: impl Fn(f64) -> f64) -> (f64, usize) {
        let calls = Cell::new(0);
        let zero = falling(low, high, |x| {
            calls.set(calls.get() + 1);
            function(x)
        });
        (zero, calls.get())
    }

    #[test]
    fn finds_known_zeros_to_the_last_bit_with_few_questions() {
        // Closed forms: a line, a parabola, the root of 2; from memory: cos x = x (Dottie), x e^x = 1 (omega).
        type Case = (f64, f64, fn(f64) -> f64, f64);
        let cases: [Case; 5] = [
            (20.0, 10_020.0, |x| 61.25 - x, 61.25),
            (0.0, 1e4, |x| 90.0 - 13.0 * x - x * x, 5.0),
            (0.0, 1.0, |x| libm::cos(x) - x, 0.739_085_133_215_160_7),
            (0.0, 1e4, |x| 2.0 - x * x, std::f64::consts::SQRT_2),
            (0.0, 4.0, |x| 1.0 - x * libm::exp(x), 0.567_143_290_409_783_8),
        ];
        for (low, high, function, zero) in cases {
            let (found, calls) = counted(low, high, function);
            assert!((found - zero).abs() <= 1e-14 * zero, "{found} is not {zero}");
            assert!(calls <= 40, "{calls} questions for {zero}");
        }
    }

    #[test]
    fn halves_where_lines_do_not_help() {
        // A jump, a flat part, an infinite value: the zero is where the sign changes.
        let jump = |x: f64| if x < 0.3 { 1e9 } else { -1e-9 };
        let cubic = |x: f64| -(x - 0.3) * (x - 0.3) * (x - 0.3);
        let infinite = |x: f64| if x < 0.3 { f64::INFINITY } else { 0.3 - x };
        for (found, calls) in [counted(0.0, 1.0, jump), counted(0.0, 1.0, cubic), counted(0.0, 1.0, infinite)] {
            assert!((found - 0.3).abs() <= 1e-15, "{found}");
            assert!(calls <= 200, "{calls} questions");
        }
    }

    #[test]
    fn stays_at_the_end_where_the_sign_never_changes() {
        assert_eq!(falling(1.0, 2.0, |_| -1.0), 1.0);
        assert_eq!(falling(1.0, 2.0, |_| 1.0), 2.0);
    }
}

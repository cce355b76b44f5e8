//! The zero of a falling function. In: a bracket and a function. Out: the place where it vanishes.
//! Halving keeps the result the same on every machine.

/// Where a function that falls from positive to negative between `low` and `high` is zero, to the last bit.
pub(crate) fn falling(mut low: f64, mut high: f64, function: impl Fn(f64) -> f64) -> f64 {
    for _ in 0..200 {
        let middle = low + (high - low) / 2.0;
        if middle <= low || middle >= high {
            break;
        }
        if function(middle) > 0.0 { low = middle } else { high = middle }
    }
    low + (high - low) / 2.0
}

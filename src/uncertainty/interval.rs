//! What draws say of a result. In: draws. Out: mean, standard uncertainty, 95 % coverage interval.
//! Draws without an answer must not pass as answers.

/// Coverage factor of a 95 % interval of a normal distribution (JCGM 100:2008, table G.1).
pub const COVERAGE_FACTOR: f64 = 1.96;

/// The probability that an end of the interval leaves outside.
const TAIL: f64 = 0.025;

/// Mean, standard uncertainty and the probabilistically symmetric 95 % interval (JCGM 101:2008, 7.6, 7.7).
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Interval {
    /// Mean of the draws.
    pub mean: f64,
    /// Their standard deviation.
    pub standard: f64,
    /// Lower end.
    pub low: f64,
    /// Upper end.
    pub high: f64,
}

impl Interval {
    /// The interval of the draws; nothing where more than one in a hundred has no answer.
    pub fn of(mut draws: Vec<f64>) -> Option<Self> {
        let all = draws.len();
        draws.retain(|draw| draw.is_finite());
        if draws.len() < 2 || (all - draws.len()) * 100 > all {
            return None;
        }
        let count = draws.len() as f64;
        let mean = draws.iter().sum::<f64>() / count;
        let squares: f64 = draws.iter().map(|draw| (draw - mean) * (draw - mean)).sum();
        let last = draws.len() - 1;
        let (low_at, high_at) = ((TAIL * count) as usize, (((1.0 - TAIL) * count) as usize).min(last));
        let (_, low, above) = draws.select_nth_unstable_by(low_at, f64::total_cmp);
        let low = *low;
        let high = match high_at.checked_sub(low_at + 1) {
            Some(at) => *above.select_nth_unstable_by(at, f64::total_cmp).1,
            None => low,
        };
        Some(Self { mean, standard: libm::sqrt(squares / (count - 1.0)), low, high })
    }
}

//! From a deviation to the accepted range. In: what an answer may be off by, and slips. Out: two ends, as printed.
//! It must never be narrower than one unit in the last figure to either side.

use super::{Bound, Slip};
use crate::{
    experiment::plan::Form,
    quantity::rounding::{self, Rounded},
};

/// A range around a value, in the answer's unit, with what decided each end.
#[derive(Debug, Clone, Copy)]
pub(super) struct Range {
    pub(super) value: f64,
    /// One unit in the last figure asked for.
    pub(super) place: f64,
    low: (f64, Bound),
    high: (f64, Bound),
}

impl Range {
    /// The wider of coverage and roundings at their worst, at least one `place`.
    pub(super) fn new(value: f64, place: f64, coverage: (f64, f64), rounding: f64) -> Self {
        let side = |covered: f64| {
            let widest = [(covered, Bound::Coverage), (rounding, Bound::Rounding), (place, Bound::LastFigure)];
            // Of equally wide ones the later says more.
            widest
                .into_iter()
                .fold((0.0, Bound::LastFigure), |best, one| if one.0 >= best.0 * (1.0 - 1e-9) { one } else { best })
        };
        let ((below, low), (above, high)) = (side(value - coverage.0), side(coverage.1 - value));
        Self { value, place, low: (value - below, low), high: (value + above, high) }
    }

    /// Whether a number would be accepted.
    pub(super) fn holds(&self, number: f64) -> bool {
        (self.low.0..=self.high.0).contains(&number)
    }

    /// Cuts the range half way to every slip inside it, but not below one unit in the last figure.
    pub(super) fn cut(&mut self, slips: &[Slip]) {
        for slip in slips.iter().filter(|slip| slip.inside) {
            let half = ((slip.value - self.value).abs() / 2.0).max(self.place);
            if slip.value < self.value && self.value - half > self.low.0 {
                self.low = (self.value - half, Bound::Slip);
            } else if slip.value > self.value && self.value + half < self.high.0 {
                self.high = (self.value + half, Bound::Slip);
            }
        }
    }

    /// What decided the ends.
    pub(super) fn bounds(&self) -> (Bound, Bound) {
        (self.low.1, self.high.1)
    }

    /// The ends, outwards to one figure more than the answer asks for.
    pub(super) fn printed(&self, form: Form) -> (Rounded, Rounded) {
        let place = form.last_place(self.value);
        let places = libm::ceil(1.0 - libm::log10(place)).max(0.0) as usize;
        let grain = libm::pow(10.0, -(places as f64));
        // A hair inwards, so that an end which lies on the grain stays there.
        let low = libm::floor(self.low.0 / grain + 1e-6) * grain;
        let high = libm::ceil(self.high.0 / grain - 1e-6) * grain;
        (rounding::to_places(low, places), rounding::to_places(high, places))
    }
}

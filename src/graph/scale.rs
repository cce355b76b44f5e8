//! The scale of an axis: 1, 2 or 5 times a power of ten for each 10 mm. In: smallest and largest number, length.
//! Out: numbers to millimetres and back. It must never choose a step that is hard to read.

use crate::quantity::rounding;

/// A scale of an axis on graph paper.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Scale {
    /// The number at the start of the axis: a whole multiple of the step.
    pub start: f64,
    /// What 10 mm stand for.
    pub step: f64,
    /// Length of the axis, mm.
    pub length: f64,
}

impl Scale {
    /// The finest easy scale that holds the numbers, however many of them.
    pub fn of_data(numbers: impl Iterator<Item = f64>, length: f64) -> Self {
        let (low, high) =
            numbers.fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), number| (low.min(number), high.max(number)));
        Self::of_range(low, high, length)
    }

    /// The finest easy scale on which `low` and `high` lie within `length` mm.
    pub fn of_range(low: f64, high: f64, length: f64) -> Self {
        if low.is_nan() || high.is_nan() || high <= low {
            return Self { start: if low.is_finite() { low.floor() } else { 0.0 }, step: 1.0, length };
        }
        let squares = length / 10.0;
        let first = libm::floor(libm::log10((high - low) / squares)) as i32;
        let steps = (first..first + 3).flat_map(|power| {
            [1.0, 2.0, 5.0].map(|digit| rounding::to_figures(digit * libm::pow(10.0, f64::from(power)), 1).value)
        });
        let fitting = steps.map(|step| Self { start: libm::floor(low / step + 1e-9) * step, step, length });
        fitting.into_iter().find(|scale| high <= scale.start + squares * scale.step * (1.0 + 1e-12)).unwrap_or(Self {
            start: low,
            step: (high - low) / squares,
            length,
        })
    }

    /// What one millimetre stands for.
    pub fn per_mm(&self) -> f64 {
        self.step / 10.0
    }

    /// The place of a number, in mm from the start of the axis.
    pub fn place(&self, number: f64) -> f64 {
        (number - self.start) / self.step * 10.0
    }

    /// The share of the axis that numbers from `low` to `high` fill.
    pub fn filled(&self, low: f64, high: f64) -> f64 {
        (self.place(high) - self.place(low)) / self.length
    }

    /// The numbers at each 10 mm, as plain decimal text, with their places in mm.
    pub fn ticks(&self) -> Vec<(f64, String)> {
        let places = rounding::places(&rounding::plain(self.step));
        let count = libm::floor(self.length / 10.0) as u32;
        let tick = |index: u32| {
            let number = self.start + f64::from(index) * self.step;
            (f64::from(index) * 10.0, rounding::to_places(number, places).text)
        };
        (0..=count).map(tick).collect()
    }
}

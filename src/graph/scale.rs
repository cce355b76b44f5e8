//! The scale of an axis on graph paper. In: the range of the data and a length. Out: 1, 2 or 5 (times a power of ten)
//! to every 10 mm, so that the data fill more than half of the axis. Numbers at the ticks are exact decimals.

use thiserror::Error;

/// Distance of the heavy lines of the paper, in millimetres.
const SQUARE_MM: u32 = 10;
/// Below this, steps of 1, 2 and 5 lie too far apart to fill more than half in every case.
const LEAST_SQUARES: u32 = 6;
/// By how much of a square a binary rounding error may miss a line.
const SLACK: f64 = 1e-9;
/// By how much of a square the outermost data may lie beyond the axis: half a millimetre, within which a point counts as
/// plotted rightly. A reading of -0.01 V where the true value is zero does not make the axis begin at -1 V.
const STRAY: f64 = 0.05;

/// A linear scale along one edge of the paper.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Scale {
    /// The number at the corner, in steps.
    first: i64,
    /// 1, 2 or 5.
    mantissa: i64,
    /// Power of ten of the step.
    exponent: i32,
    /// Length of the axis in squares.
    squares: u32,
}

/// Why no scale can be had.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Error)]
pub enum ScaleError {
    /// A bound is no number, or the range is empty.
    #[error("a scale needs two different finite numbers, the lower one first")]
    Range,
    /// The paper is too short to fill more than half of it in every case.
    #[error("an axis needs at least 60 mm")]
    Length,
}

impl Scale {
    /// The finest scale that holds `min` to `max` on at most `longest_mm` of paper; the axis begins at the heavy line at
    /// or before `min`, give or take half a millimetre, or at zero. Where the step would leave half of the paper or more empty, the axis gets shorter.
    ///
    /// # Errors
    /// If the range is empty or not finite, or the paper shorter than 60 mm.
    pub fn choose(min: f64, max: f64, longest_mm: u32, start_at_zero: bool) -> Result<Self, ScaleError> {
        let (low, high) = if start_at_zero { (min.min(0.0), max.max(0.0)) } else { (min, max) };
        if !(low.is_finite() && high.is_finite() && low < high) {
            return Err(ScaleError::Range);
        }
        let squares = longest_mm / SQUARE_MM;
        if squares < LEAST_SQUARES {
            return Err(ScaleError::Length);
        }
        let magnitude = libm::floor(libm::log10((high - low) / f64::from(squares))) as i32;
        for exponent in magnitude - 1..=magnitude + 2 {
            for mantissa in [1, 2, 5] {
                let mut scale = Self { first: 0, mantissa, exponent, squares };
                let first = libm::floor(low / scale.step() + STRAY);
                let last = libm::ceil(high / scale.step() - STRAY);
                if first.abs().max(last.abs()) >= 9e15 || last - first > f64::from(squares) {
                    continue;
                }
                scale.first = first as i64;
                scale.squares = scale.shortened((last - first) as u32, high - low);
                return Ok(scale);
            }
        }
        Err(ScaleError::Range)
    }

    /// The scale that holds all numbers; where they do not differ, one around the number.
    pub fn of_data(numbers: impl Iterator<Item = f64>, longest_mm: u32) -> Self {
        let (low, high) = numbers
            .filter(|number| number.is_finite())
            .fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), number| (low.min(number), high.max(number)));
        let middle = if low.is_finite() { low } else { 0.0 };
        Self::choose(low, high, longest_mm, false)
            .or_else(|_| Self::choose(middle - 1.0, middle + 1.0, longest_mm.max(20), false))
            .unwrap_or(Self { first: 0, mantissa: 1, exponent: 0, squares: 2 })
    }

    /// The number of squares, at least `needed`, of which a range of the given width fills more than half.
    fn shortened(&self, needed: u32, width: f64) -> u32 {
        let most = libm::ceil(2.0 * width / self.step() - SLACK) as u32;
        self.squares.min(most.saturating_sub(1)).max(needed)
    }

    /// What 10 mm stand for.
    pub fn step(&self) -> f64 {
        // Reading the decimal text rounds correctly; a product with a power of ten need not.
        self.step_text().parse().unwrap_or(f64::NAN)
    }

    /// What one millimetre stands for.
    pub fn per_mm(&self) -> f64 {
        self.step() / f64::from(SQUARE_MM)
    }

    /// What 10 mm stand for, as a plain decimal text.
    pub fn step_text(&self) -> String {
        decimal(self.mantissa, self.exponent)
    }

    /// Length of the axis in millimetres, a multiple of 10.
    pub fn length_mm(&self) -> u32 {
        self.squares * SQUARE_MM
    }

    /// Position of a value along the axis, in millimetres.
    pub fn position(&self, value: f64) -> f64 {
        (value / self.step() - self.first as f64) * f64::from(SQUARE_MM)
    }

    /// The value at a position in millimetres.
    pub fn value(&self, position_mm: f64) -> f64 {
        (position_mm / f64::from(SQUARE_MM) + self.first as f64) * self.step()
    }

    /// Positions in millimetres with their numbers as plain decimal texts (a point, a hyphen as minus), from the corner
    /// on, every `every_mm` rounded up to a multiple of 10.
    pub fn ticks(&self, every_mm: u32) -> Vec<(f64, String)> {
        let stride = every_mm.div_ceil(SQUARE_MM).max(1);
        (0..=self.squares)
            .step_by(stride as usize)
            .map(|square| {
                let number = (self.first + i64::from(square)) * self.mantissa;
                (f64::from(square * SQUARE_MM), decimal(number, self.exponent))
            })
            .collect()
    }
}

/// `number` times ten to the `exponent`, written without powers, all decimals of the exponent kept.
fn decimal(number: i64, exponent: i32) -> String {
    let sign = if number < 0 { "-" } else { "" };
    let digits = number.unsigned_abs().to_string();
    if number == 0 && exponent >= 0 {
        return digits;
    }
    if exponent >= 0 {
        return format!("{sign}{digits}{}", "0".repeat(exponent.unsigned_abs() as usize));
    }
    let places = exponent.unsigned_abs() as usize;
    let padded = format!("{digits:0>width$}", width = places + 1);
    let (whole, decimals) = padded.split_at(padded.len() - places);
    format!("{sign}{whole}.{decimals}")
}

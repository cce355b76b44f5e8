//! Values of a formula in SI: a number or a column, for one set of readings or for many draws at once.
//! In: numbers. Out: numbers. It must know no units.

use serde::{Deserialize, Serialize};
use smallvec::{SmallVec, smallvec};

use super::Shape;

/// One number or a column, in SI units, repeated over `lanes` draws.
///
/// Lane after lane, each with all its rows: `data[lane * rows + row]`.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Value {
    shape: Shape,
    rows: usize,
    lanes: usize,
    /// Most values are one number, which needs no memory of its own.
    #[serde(with = "numbers")]
    data: SmallVec<[f64; 1]>,
}

/// The numbers of a value as they are stored away.
mod numbers {
    use serde::{Deserialize, Deserializer, Serialize, Serializer};
    use smallvec::SmallVec;

    pub(super) fn serialize<S: Serializer>(own: &SmallVec<[f64; 1]>, to: S) -> Result<S::Ok, S::Error> {
        own.as_slice().serialize(to)
    }

    pub(super) fn deserialize<'de, D: Deserializer<'de>>(from: D) -> Result<SmallVec<[f64; 1]>, D::Error> {
        Vec::deserialize(from).map(SmallVec::from_vec)
    }
}

impl Value {
    /// One number.
    pub fn scalar(number: f64) -> Self {
        Self { shape: Shape::Scalar, rows: 1, lanes: 1, data: smallvec![number] }
    }

    /// One column of readings.
    pub fn column(numbers: Vec<f64>) -> Self {
        Self { shape: Shape::Column, rows: numbers.len(), lanes: 1, data: SmallVec::from_vec(numbers) }
    }

    /// Many draws of the same number or column; `data` holds lane after lane.
    pub fn lanes(shape: Shape, rows: usize, data: Vec<f64>) -> Self {
        let lanes = data.len().checked_div(rows).unwrap_or(0);
        let data = if data.len() > 1 { SmallVec::from_vec(data) } else { SmallVec::from_slice(&data) };
        Self { shape, rows, lanes, data }
    }

    /// One number or a column.
    pub fn shape(&self) -> Shape {
        self.shape
    }

    /// How many draws it holds.
    pub fn lane_count(&self) -> usize {
        self.lanes
    }

    /// The rows of one draw; a value without draws of its own serves them all.
    pub fn lane(&self, lane: usize) -> &[f64] {
        let lane = if self.lanes == 1 { 0 } else { lane };
        &self.data[lane * self.rows..(lane + 1) * self.rows]
    }

    /// The number of the first draw and row.
    pub fn number(&self) -> f64 {
        self.data.first().copied().unwrap_or(f64::NAN)
    }

    /// All numbers, lane after lane.
    pub fn data(&self) -> &[f64] {
        &self.data
    }

    /// The value with `change` applied to every number.
    #[must_use]
    pub fn map(&self, change: impl Fn(f64) -> f64) -> Self {
        Self { data: self.data.iter().map(|&number| change(number)).collect(), ..*self }
    }

    /// Adds a number to a row of every draw.
    pub(crate) fn shift(&mut self, row: usize, numbers: &[f64]) {
        let rows = self.rows;
        let cells = self.data.iter_mut().skip(row).step_by(rows.max(1));
        cells.zip(numbers).for_each(|(cell, number)| *cell += number);
    }

    /// Joins two values number by number; a single number or draw is repeated as needed.
    /// Nothing where two columns have unlike lengths.
    pub fn join(&self, other: &Self, combine: impl Fn(f64, f64) -> f64) -> Option<Self> {
        let shape = if self.shape == Shape::Column { Shape::Column } else { other.shape };
        let rows = self.rows.max(other.rows);
        let lanes = self.lanes.max(other.lanes);
        if self.shape == Shape::Column && other.shape == Shape::Column && self.rows != other.rows {
            return None;
        }
        let (left, right) = (&self.data, &other.data);
        let data = if left.len() == right.len() && self.rows == other.rows {
            left.iter().zip(right).map(|(&left, &right)| combine(left, right)).collect()
        } else if left.len() == 1 {
            right.iter().map(|&right| combine(left[0], right)).collect()
        } else if right.len() == 1 {
            left.iter().map(|&left| combine(left, right[0])).collect()
        } else {
            let mut data = SmallVec::with_capacity(rows * lanes);
            for lane in 0..lanes {
                let (left, right) = (self.lane(lane), other.lane(lane));
                data.extend((0..rows).map(|row| combine(left[row % left.len()], right[row % right.len()])));
            }
            data
        };
        Some(Self { shape, rows, lanes, data })
    }
}

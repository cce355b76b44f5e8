//! Linear equations of a step, `(λ I − h J) x = b` for the active states. In: λ, h, slopes. Out: solutions.
//! It must not know what the equations are for.

use super::{complex::Number, slopes::Slopes};

/// The factors of such a matrix, with partial pivoting.
#[derive(Debug, Clone)]
pub(super) struct Factors<T, const N: usize> {
    /// Below the diagonal the multipliers, on it the inverses of the pivots, above it what is left.
    rows: [[T; N]; N],
    swaps: [usize; N],
    shift_inverse: T,
}

impl<T: Number, const N: usize> Factors<T, N> {
    /// Factors the matrix.
    pub(super) fn new(shift: T, step: f64, slopes: &Slopes<N>) -> Self {
        let active = slopes.active();
        let size = active.len();
        let mut rows = [[T::real(0.0); N]; N];
        for (row, &from) in rows.iter_mut().zip(active) {
            for (slot, &to) in row.iter_mut().zip(active) {
                *slot = T::real(-step * slopes.slope(from, to));
            }
        }
        let mut swaps = [0; N];
        for (index, row) in rows.iter_mut().enumerate() {
            row[index] = row[index] + shift;
        }
        for pivot in 0..size {
            let largest = (pivot + 1..size)
                .fold(pivot, |best, row| if rows[row][pivot].size() > rows[best][pivot].size() { row } else { best });
            rows.swap(pivot, largest);
            swaps[pivot] = largest;
            let inverse = rows[pivot][pivot].inverse();
            rows[pivot][pivot] = inverse;
            let above = rows[pivot];
            for row in &mut rows[pivot + 1..size] {
                let factor = row[pivot] * inverse;
                row[pivot] = factor;
                for column in pivot + 1..size {
                    row[column] = row[column] - factor * above[column];
                }
            }
        }
        Self { rows, swaps, shift_inverse: shift.inverse() }
    }

    /// Solves for all states, in place; the passive ones follow from the active ones.
    pub(super) fn solve(&self, step: f64, slopes: &Slopes<N>, sides: &mut [T; N]) {
        let (active, passive) = (slopes.active(), slopes.passive());
        let size = active.len();
        let mut x = [T::real(0.0); N];
        for (slot, &state) in x.iter_mut().zip(active) {
            *slot = sides[state];
        }
        for pivot in 0..size {
            x.swap(pivot, self.swaps[pivot]);
        }
        for pivot in 0..size {
            let value = x[pivot];
            for (slot, row) in x[..size].iter_mut().zip(&self.rows).skip(pivot + 1) {
                *slot = *slot - row[pivot] * value;
            }
        }
        for pivot in (0..size).rev() {
            let mut sum = x[pivot];
            for (&factor, &value) in self.rows[pivot][..size].iter().zip(&x).skip(pivot + 1) {
                sum = sum - factor * value;
            }
            x[pivot] = sum * self.rows[pivot][pivot];
        }
        for (&value, &state) in x.iter().zip(active) {
            sides[state] = value;
        }
        for &state in passive {
            let from_active = active
                .iter()
                .zip(&x)
                .fold(T::real(0.0), |sum, (&column, &value)| sum + T::real(step * slopes.slope(state, column)) * value);
            sides[state] = (sides[state] + from_active) * self.shift_inverse;
        }
    }
}

//! How the rates change with the states. In: balances and a place. Out: the matrix of slopes, by differences.
//! A state on which no rate depends, such as a sum of energy, is passive: it needs neither differences nor equations.

use super::Balances;

/// The slopes at a place: `matrix[row][column]` is the change of rate `row` per state `column`.
#[derive(Debug, Clone)]
pub(super) struct Slopes<const N: usize> {
    matrix: [[f64; N]; N],
    /// First the states on which a rate depends, then the others.
    order: [usize; N],
    active: usize,
}

impl<const N: usize> Slopes<N> {
    /// With all states taken as active, and all slopes zero.
    pub(super) fn unknown() -> Self {
        Self { matrix: [[0.0; N]; N], order: std::array::from_fn(|index| index), active: N }
    }

    /// The states on which a rate depends.
    pub(super) fn active(&self) -> &[usize] {
        &self.order[..self.active]
    }

    /// The states on which none depends.
    pub(super) fn passive(&self) -> &[usize] {
        &self.order[self.active..]
    }

    /// The slope of a rate by a state.
    pub(super) fn slope(&self, row: usize, column: usize) -> f64 {
        self.matrix[row][column]
    }

    /// Finds the slopes at a place by differences; for states that were passive only where `all` are to be looked at.
    pub(super) fn find<B: Balances<N>>(&mut self, balances: &B, time: f64, states: &[f64; N], all: bool) {
        let here = balances.rates(time, states);
        let looked_at = if all { N } else { self.active };
        let mut moved = *states;
        let mut found = ([0; N], 0, [0; N], 0);
        for &column in &self.order[..looked_at] {
            // Half of the digits for the difference, half for its quotient.
            moved[column] = states[column] + 1.5e-8 * states[column].abs().max(1.0);
            let step = moved[column] - states[column];
            let there = balances.rates(time, &moved);
            moved[column] = states[column];
            for row in 0..N {
                self.matrix[row][column] = (there[row] - here[row]) / step;
            }
            if here == there {
                found.2[found.3] = column;
                found.3 += 1;
            } else {
                found.0[found.1] = column;
                found.1 += 1;
            }
        }
        if all {
            let (active, count, passive, rest) = found;
            self.order[..count].copy_from_slice(&active[..count]);
            self.order[count..].copy_from_slice(&passive[..rest]);
            self.active = count;
        }
    }

    /// The steepest sum of slopes of one active state, 1/s: no part of the system is faster.
    pub(super) fn steepest(&self) -> f64 {
        let sum = |&row: &usize| self.active().iter().map(|&column| self.matrix[row][column].abs()).sum::<f64>();
        self.active().iter().map(sum).fold(0.0, f64::max)
    }
}

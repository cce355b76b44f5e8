//! The states at the stages of a step, as what they have changed by since its start. In: such changes and weights.
//! Out: weighted sums of them, and the polynomial through them beyond the step. It must know no rates.

use super::radau::{NODES, STAGES};

/// The change of each state up to each node.
pub(super) type Stages<const N: usize> = [[f64; N]; STAGES];

/// The reciprocal distances of the nodes from last to first and then zero: `GAPS[k][i]` is `1 / (x_(i+1) − x_(i−k))`.
const GAPS: [[f64; STAGES]; STAGES] = gaps();

/// The nodes from last to first, then the start of the step.
const fn place(index: usize) -> f64 {
    if index < STAGES { NODES[STAGES - 1 - index] } else { 0.0 }
}

const fn gaps() -> [[f64; STAGES]; STAGES] {
    let mut gaps = [[0.0; STAGES]; STAGES];
    let mut level = 0;
    while level < STAGES {
        let mut index = level;
        while index < STAGES {
            gaps[level][index] = 1.0 / (place(index + 1) - place(index - level));
            index += 1;
        }
        level += 1;
    }
    gaps
}

/// The change of each state up to a place within the step, as a share of its length: on the polynomial through the stages.
pub(super) fn within<const N: usize>(stages: &Stages<N>, at: f64) -> [f64; N] {
    let weights = std::array::from_fn(|own| {
        let others = (0..STAGES).filter(|&other| other != own);
        others.fold(at / NODES[own], |weight, other| weight * (at - NODES[other]) / (NODES[own] - NODES[other]))
    });
    weighted(&weights, stages)
}

/// One weighted sum over the stages.
pub(super) fn weighted<const N: usize>(weights: &[f64; STAGES], stages: &Stages<N>) -> [f64; N] {
    let mut sum = [0.0; N];
    for (weight, stage) in weights.iter().zip(stages) {
        for (sum, value) in sum.iter_mut().zip(stage) {
            *sum += weight * value;
        }
    }
    sum
}

/// A weighted sum for each row of a matrix.
pub(super) fn product<const N: usize>(matrix: &[[f64; STAGES]; STAGES], stages: &Stages<N>) -> Stages<N> {
    std::array::from_fn(|row| weighted(&matrix[row], stages))
}

/// The stages of the step after this one, `ratio` times as long, on the polynomial through the stages of this one.
pub(super) fn beyond<const N: usize>(stages: &Stages<N>, ratio: f64) -> Stages<N> {
    let end = stages[STAGES - 1];
    // Newton's divided differences over the nodes from last to first; relative to the end, where the first value is zero.
    let mut differences: Stages<N> = std::array::from_fn(|index| {
        let before = if index + 1 < STAGES { stages[STAGES - 2 - index] } else { [0.0; N] };
        std::array::from_fn(|state| before[state] - end[state])
    });
    let mut left = [0.0; N];
    for level in 0..STAGES {
        for index in (level..STAGES).rev() {
            let low = if index == level { left } else { differences[index - 1] };
            for (value, low) in differences[index].iter_mut().zip(low) {
                *value = (*value - low) * GAPS[level][index];
            }
        }
        left = differences[level];
    }
    NODES.map(|node| {
        let at = 1.0 + node * ratio;
        let mut value = differences[STAGES - 1];
        for index in (0..STAGES - 1).rev() {
            for (value, difference) in value.iter_mut().zip(&differences[index]) {
                *value = *value * (at - place(index + 1)) + difference;
            }
        }
        value.map(|value| value * (at - place(0)))
    })
}

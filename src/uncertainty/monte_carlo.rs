//! Monte Carlo: the formula evaluated on columns of draws (JCGM 101:2008, clause 7). In: a formula, values, inputs.
//! Out: draws of the result. It must draw what two inputs share only once.
//!
//! Errors without bounds are drawn jointly for all inputs by the triangular root of their covariances (JCGM 101:2008,
//! 6.4.8); bounded errors are drawn one by one. A reading in a column is drawn only where moving it alone by six
//! standard uncertainties changes the result: others can't matter, and most rows of a table are such.

use std::{ops::Range, sync::Arc};

use super::{
    Errors, Input, Moved,
    draws::{Law, column},
    first_order::at,
};
use crate::formula::{self, EvaluationError, Node, Value, Values};

/// How far a reading is moved to see whether it matters, in standard uncertainties.
const FAR: f64 = 6.0;

/// Draws evaluated at once: few enough to stay in a processor's cache.
const BLOCK: usize = 500;

/// Draws of a formula's result, in SI; a draw without an answer is NaN.
///
/// # Errors
/// Where the formula has no value at the inputs themselves.
pub fn monte_carlo(
    node: &Node,
    values: &dyn Values,
    inputs: &[Input],
    errors: &Errors,
    count: usize,
) -> Result<Vec<f64>, EvaluationError> {
    let centre = formula::evaluate(node, values)?.number();
    let inputs: Vec<&Input> = inputs.iter().filter(|input| matters(node, values, input, errors, centre)).collect();
    let sources = sources(&inputs, errors, count);
    let mut results = Vec::with_capacity(count);
    for start in (0..count).step_by(BLOCK) {
        let block = start..count.min(start + BLOCK);
        let moved = moved(values, &inputs, &sources, block.clone());
        let found = formula::evaluate(node, &Moved { base: values, moved })?;
        if found.lane_count() == block.len() {
            results.extend_from_slice(found.data());
        } else {
            results.resize(block.end, found.number());
        }
    }
    Ok(results)
}

fn matters(node: &Node, values: &dyn Values, input: &Input, errors: &Errors, centre: f64) -> bool {
    let step = FAR * input.deviation.standard(errors);
    let changed = |step| at(node, values, input, step).map_or(true, |there| there.number() != centre);
    step > 0.0 && (input.row.is_none() || changed(step) || changed(-step))
}

/// A column of random numbers with its factor for every input.
struct Source {
    draws: Arc<[f64]>,
    factors: Vec<f64>,
}

/// All columns that the inputs are made of.
fn sources(inputs: &[&Input], errors: &Errors, count: usize) -> Vec<Source> {
    let root = root(inputs, errors);
    let used = |factors: &Vec<f64>| factors.iter().any(|&factor| factor != 0.0);
    let joint = (0..inputs.len()).map(|at| root.iter().map(|row| row.get(at).copied().unwrap_or(0.0)).collect());
    let bounded = errors.iter().filter_map(|(error, distribution)| {
        let reach = distribution.reach()?;
        Some(inputs.iter().map(|input| input.deviation.coefficient(error) * reach).collect())
    });
    let source = |law| move |(index, factors)| Source { draws: column(law, index as u32, count), factors };
    let joint = joint.filter(used).enumerate().map(source(Law::Normal));
    joint.chain(bounded.filter(used).enumerate().map(source(Law::Even))).collect()
}

/// The values of all inputs in a block of draws.
fn moved<'a>(
    values: &dyn Values,
    inputs: &[&'a Input],
    sources: &[Source],
    block: Range<usize>,
) -> Vec<(&'a str, Value)> {
    let mut moved: Vec<(&str, Value)> = Vec::new();
    let mut deviations = vec![0.0; block.len()];
    for (index, input) in inputs.iter().enumerate() {
        let at = match moved.iter().position(|(name, _)| *name == input.name) {
            Some(at) => at,
            None => {
                let Some(value) = values.value_of(&input.name) else { continue };
                moved.push((
                    &input.name,
                    Value::lanes(value.shape(), value.data().len(), value.data().repeat(block.len())),
                ));
                moved.len() - 1
            }
        };
        deviations.fill(0.0);
        for source in sources.iter().filter(|source| source.factors[index] != 0.0) {
            let factor = source.factors[index];
            let draws = &source.draws[block.clone()];
            deviations.iter_mut().zip(draws).for_each(|(own, draw)| *own += factor * draw);
        }
        moved[at].1.shift(input.row.unwrap_or(0), &deviations);
    }
    moved
}

/// The lower triangular root of the inputs' covariances by unbounded errors (Cholesky); a row of zeros where an input
/// adds nothing of its own.
fn root(inputs: &[&Input], errors: &Errors) -> Vec<Vec<f64>> {
    let mut root: Vec<Vec<f64>> = Vec::with_capacity(inputs.len());
    for (row, input) in inputs.iter().enumerate() {
        let mut line = vec![0.0; row + 1];
        for at in 0..=row {
            let covariance = input.deviation.boundless_covariance(&inputs[at].deviation, errors);
            let own = if at == row { &line } else { &root[at] };
            let rest = covariance - (0..at).map(|before| line[before] * own[before]).sum::<f64>();
            line[at] = if at == row {
                // What rounding leaves of nothing is nothing.
                if rest > 1e-12 * covariance { libm::sqrt(rest) } else { 0.0 }
            } else if root[at][at] > 0.0 {
                rest / root[at][at]
            } else {
                0.0
            };
        }
        root.push(line);
    }
    root
}

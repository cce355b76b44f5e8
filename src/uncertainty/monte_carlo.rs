//! Monte Carlo: the formula evaluated on columns of draws (JCGM 101:2008, clause 7). In: a formula, values, inputs.
//! Out: draws of the result. It must draw what two inputs share only once.
//!
//! Errors without bounds are drawn jointly for all inputs by the triangular root of their covariances (JCGM 101:2008,
//! 6.4.8); bounded errors are drawn one by one. A reading in a column is drawn only where moving it alone by six
//! standard uncertainties changes the result: others can't matter, and most rows of a table are such.

use super::{
    Distribution, Errors, Input, Moved,
    draws::{Law, column},
    first_order::at,
};
use crate::formula::{self, EvaluationError, Node, Shape, Value, Values};

/// How far a reading is moved to see whether it matters, in standard uncertainties.
const FAR: f64 = 6.0;

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
    let mut moved: Vec<(&str, Value)> = Vec::new();
    for (input, deviations) in inputs.iter().zip(deviations(&inputs, errors, count)) {
        let at = match moved.iter().position(|(name, _)| *name == input.name) {
            Some(at) => at,
            None => {
                let Some(value) = values.value_of(&input.name) else { continue };
                moved.push((&input.name, repeated(value, count)));
                moved.len() - 1
            }
        };
        let value = &mut moved[at].1;
        value.shift(input.row.unwrap_or(0), &deviations);
    }
    let result = formula::evaluate(node, &Moved { base: values, moved })?;
    Ok(if result.lane_count() == 1 { vec![result.number(); count] } else { result.data().to_vec() })
}

fn matters(node: &Node, values: &dyn Values, input: &Input, errors: &Errors, centre: f64) -> bool {
    let step = FAR * input.deviation.standard(errors);
    let changed = |step| at(node, values, input, step).map_or(true, |there| there.number() != centre);
    step > 0.0 && (input.row.is_none() || changed(step) || changed(-step))
}

fn repeated(value: &Value, count: usize) -> Value {
    let rows = if value.shape() == Shape::Scalar { 1 } else { value.data().len() };
    Value::lanes(value.shape(), rows, value.data().repeat(count))
}

/// Draws of every input's deviation.
fn deviations(inputs: &[&Input], errors: &Errors, count: usize) -> Vec<Vec<f64>> {
    let mut found = vec![vec![0.0; count]; inputs.len()];
    for (row, deviations) in root(inputs, errors).iter().zip(&mut found) {
        for (index, &factor) in row.iter().enumerate() {
            add(deviations, factor, Law::Normal, index);
        }
    }
    let bounded = errors.iter().filter_map(|(error, distribution)| match distribution {
        Distribution::Rectangular(reach) => Some((error, reach)),
        Distribution::Normal(_) => None,
    });
    let used = bounded.filter(|(error, _)| inputs.iter().any(|input| input.deviation.coefficient(*error) != 0.0));
    for (index, (error, reach)) in used.enumerate() {
        for (input, deviations) in inputs.iter().zip(&mut found) {
            add(deviations, input.deviation.coefficient(error) * reach, Law::Even, index);
        }
    }
    found
}

fn add(deviations: &mut [f64], factor: f64, law: Law, index: usize) {
    if factor != 0.0 {
        let draws = column(law, index as u32, deviations.len());
        deviations.iter_mut().zip(draws.iter()).for_each(|(own, draw)| *own += factor * draw);
    }
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

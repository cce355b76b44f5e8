//! First order: sensitivities by central differences over one standard uncertainty (JCGM 100:2008, 5.1.3, note 2).
//! In: a formula, values, inputs. Out: the result's deviation. It must not square anything.

use super::{Deviation, Errors, Input, Moved};
use crate::formula::{self, EvaluationError, Node, Value, Values};

/// The deviation of a formula's result, in SI: what its inputs may be off by, times the result's sensitivity to each.
///
/// # Errors
/// Where the formula has no value near its inputs.
pub fn first_order(
    node: &Node,
    values: &dyn Values,
    inputs: &[Input],
    errors: &Errors,
) -> Result<Deviation, EvaluationError> {
    Ok(first_order_rows(node, values, inputs, errors)?.into_iter().next().unwrap_or_default())
}

/// The same for every row of a result that is a column.
///
/// # Errors
/// Where the formula has no value near its inputs.
pub fn first_order_rows(
    node: &Node,
    values: &dyn Values,
    inputs: &[Input],
    errors: &Errors,
) -> Result<Vec<Deviation>, EvaluationError> {
    let mut result: Vec<Deviation> = Vec::new();
    for input in inputs {
        let step = input.deviation.standard(errors);
        if step > 0.0 {
            let (up, down) = (at(node, values, input, step)?, at(node, values, input, -step)?);
            result.resize_with(result.len().max(up.data().len()), Deviation::default);
            for (row, (up, down)) in result.iter_mut().zip(up.data().iter().zip(down.data())) {
                if up != down {
                    row.add(&input.deviation, (up - down) / (2.0 * step));
                }
            }
        }
    }
    Ok(result)
}

/// The result with one input moved.
pub(super) fn at(node: &Node, values: &dyn Values, input: &Input, step: f64) -> Result<Value, EvaluationError> {
    let Some(value) = values.value_of(&input.name) else {
        return Err(EvaluationError::new(format!("`{}` has no value here", input.name)));
    };
    let moved = Moved { base: values, moved: vec![(&input.name, input.moved(value, step))] };
    formula::evaluate(node, &moved)
}

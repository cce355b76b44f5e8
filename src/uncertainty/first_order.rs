//! First order: sensitivities by central differences over one standard uncertainty (JCGM 100:2008, 5.1.3, note 2).
//! In: a formula, values, inputs. Out: the result's deviation. It must not square anything.

use super::{Deviation, Errors, Input, Moved};
use crate::formula::{self, EvaluationError, Node, Values};

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
    let mut result = Deviation::default();
    for input in inputs {
        let step = input.deviation.standard(errors);
        if step > 0.0 {
            let (up, down) = (at(node, values, input, step)?, at(node, values, input, -step)?);
            result.add(&input.deviation, (up - down) / (2.0 * step));
        }
    }
    Ok(result)
}

/// The result with one input moved.
pub(super) fn at(node: &Node, values: &dyn Values, input: &Input, step: f64) -> Result<f64, EvaluationError> {
    let Some(value) = values.value_of(&input.name) else {
        return Err(EvaluationError::new(format!("`{}` has no value here", input.name)));
    };
    let moved = Moved { base: values, moved: vec![(&input.name, input.moved(value, step))] };
    Ok(formula::evaluate(node, &moved)?.number())
}

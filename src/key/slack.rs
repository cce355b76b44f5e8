//! How far a careful student may land from the key. In: a formula, values, what each value may be off by.
//! Out: the allowance in SI. It must allow for nothing that care avoids: slips lie outside.

use crate::{
    formula::{self, EvaluationError, Node, Shape, Value, Values},
    variant::Known,
};

/// The allowance of one name: half-width in SI, for every row of a column alike.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Allowance {
    pub(super) name: String,
    pub(super) half_width: f64,
    /// Whether the rows of a column deviate each on its own (readings) or together.
    pub(super) rows_apart: bool,
}

/// Values with one name moved.
struct Moved<'a> {
    known: &'a Known,
    name: &'a str,
    value: Value,
}

impl Values for Moved<'_> {
    fn value_of(&self, name: &str) -> Option<&Value> {
        if name == self.name { Some(&self.value) } else { self.known.value_of(name) }
    }
}

/// The allowance of a result from those of its inputs, to first order.
///
/// Earlier answers carry a rounding each, which adds in full: a student who rounds every step may round every step the
/// same way. Readings deviate by chance and add in squares (JCGM 100:2008, 5.1.2), sensitivities by central differences.
///
/// # Errors
/// Where the formula has no value near its inputs.
pub(super) fn propagate(node: &Node, known: &Known, allowances: &[Allowance]) -> Result<f64, EvaluationError> {
    let mut sum = 0.0;
    let mut squares = 0.0;
    for allowance in allowances {
        let Some(value) = known.value_of(&allowance.name) else { continue };
        let step = allowance.half_width;
        if step == 0.0 {
            continue;
        }
        let change = |moved: Value| -> Result<f64, EvaluationError> {
            Ok(formula::evaluate(node, &Moved { known, name: &allowance.name, value: moved })?.number())
        };
        match (value.shape(), allowance.rows_apart) {
            (Shape::Column, true) => {
                for row in 0..value.data().len() {
                    let up = change(nudged(value, row, step))?;
                    let down = change(nudged(value, row, -step))?;
                    squares += (up - down) * (up - down) / 4.0;
                }
            }
            _ => {
                let up = change(value.map(|number| number + step))?;
                let down = change(value.map(|number| number - step))?;
                sum += (up - down).abs() / 2.0;
            }
        }
    }
    Ok(sum + libm::sqrt(squares))
}

fn nudged(value: &Value, row: usize, step: f64) -> Value {
    let mut numbers = value.data().to_vec();
    numbers[row] += step;
    Value::column(numbers)
}

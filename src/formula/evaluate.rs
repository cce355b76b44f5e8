//! A tree and values to a value. In: a checked tree, values in SI. Out: the value in SI, for one student or many draws.
//! It must not round.

use std::borrow::Cow;

use super::{FitError, Function, Node, NodeKind, Operator, Relation, Shape, Value, function::Body};

/// Why a formula has no value for these readings.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[error("{message}")]
pub struct EvaluationError {
    /// What is missing in the readings.
    pub message: String,
}

impl EvaluationError {
    pub(crate) fn new(message: impl Into<String>) -> Self {
        Self { message: message.into() }
    }
}

impl From<FitError> for EvaluationError {
    fn from(error: FitError) -> Self {
        Self::new(error.to_string())
    }
}

/// The values that names stand for, in SI.
pub trait Values {
    /// The value of a name.
    fn value_of(&self, name: &str) -> Option<&Value>;
}

/// The value of a formula in SI.
///
/// # Errors
/// An [`EvaluationError`] where a name has no value, columns have unlike lengths, or a function finds no answer.
/// With many draws, a draw without an answer becomes NaN instead.
pub fn evaluate(node: &Node, values: &dyn Values) -> Result<Value, EvaluationError> {
    part(node, values).map(Cow::into_owned)
}

/// A part of a formula; what only stands for a name is not copied.
fn part<'v>(node: &Node, values: &'v dyn Values) -> Result<Cow<'v, Value>, EvaluationError> {
    let value = match &node.kind {
        NodeKind::Number(quantity) => Value::scalar(quantity.si()),
        NodeKind::Name(name) => {
            let found = values.value_of(name).map(Cow::Borrowed);
            return found.ok_or_else(|| EvaluationError::new(format!("`{name}` has no value here")));
        }
        NodeKind::Negative(inner) => part(inner, values)?.map(|number| -number),
        NodeKind::Binary(operator, left, right) => {
            let (left, right) = (part(left, values)?, part(right, values)?);
            let joined = match operator {
                Operator::Add => left.join(&right, |a, b| a + b),
                Operator::Subtract => left.join(&right, |a, b| a - b),
                Operator::Multiply => left.join(&right, |a, b| a * b),
                Operator::Divide => left.join(&right, |a, b| a / b),
                Operator::Power => left.join(&right, libm::pow),
            };
            joined.ok_or_else(|| EvaluationError::new("two columns have unlike numbers of rows"))?
        }
        NodeKind::Compare(relation, left, right) => {
            let (left, right) = (part(left, values)?, part(right, values)?);
            let compare = |a, b| if relation.holds(a, b) { 1.0 } else { 0.0 };
            left.join(&right, compare).ok_or_else(|| EvaluationError::new("two columns have unlike numbers of rows"))?
        }
        NodeKind::Call(function, arguments) => {
            let found = arguments.iter().map(|node| part(node, values)).collect::<Result<Vec<_>, _>>()?;
            call(function, &found)?
        }
    };
    Ok(Cow::Owned(value))
}

/// Whether a condition holds; for columns, in every row.
///
/// # Errors
/// As [`evaluate`].
pub fn holds(node: &Node, values: &dyn Values) -> Result<bool, EvaluationError> {
    Ok(evaluate(node, values)?.data().iter().all(|&number| number == 1.0))
}

/// By how much the sides of a condition differ, in SI: above zero where it holds, below where it does not; for columns, in the row
/// where it holds least, and no number where a row has none.
///
/// # Errors
/// As [`evaluate`], or if it compares nothing.
pub fn margin(condition: &Node, values: &dyn Values) -> Result<f64, EvaluationError> {
    let NodeKind::Compare(relation, left, right) = &condition.kind else {
        return Err(EvaluationError::new("nothing is compared"));
    };
    let (left, right) = (part(left, values)?, part(right, values)?);
    let ahead = match relation {
        Relation::Greater | Relation::AtLeast => left.join(&right, |a, b| a - b),
        Relation::Less | Relation::AtMost => left.join(&right, |a, b| b - a),
    };
    let ahead = ahead.ok_or_else(|| EvaluationError::new("two columns have unlike numbers of rows"))?;
    let least = |least: f64, row: f64| if row < least || row.is_nan() { row } else { least };
    Ok(ahead.data().iter().copied().fold(f64::INFINITY, least))
}

fn call(function: &Function, arguments: &[Cow<'_, Value>]) -> Result<Value, EvaluationError> {
    if let Body::Each(change) = function.body {
        return Ok(arguments[0].map(change));
    }
    let lanes = arguments.iter().map(|argument| argument.lane_count()).max().unwrap_or(1);
    let (mut data, mut rows, mut shape) = (Vec::with_capacity(lanes), 1, Shape::Scalar);
    let mut slices = Vec::with_capacity(arguments.len());
    for lane in 0..lanes {
        slices.clear();
        slices.extend(arguments.iter().map(|argument| argument.lane(lane)));
        match function.body {
            Body::Each(_) => {}
            Body::Number(compute) => match compute(&slices) {
                Ok(number) => data.push(number),
                Err(error) if lanes == 1 => return Err(error),
                Err(_) => data.push(f64::NAN),
            },
            Body::Column(compute) => {
                let column = compute(&slices)?;
                (rows, shape) = (column.len(), Shape::Column);
                data.extend(column);
            }
        }
    }
    Ok(Value::lanes(shape, rows, data))
}

//! The rule between first order and Monte Carlo. In: a formula, its inputs, the first-order result. Out: the method.
//! It must not look at what the methods cost.

use serde::{Deserialize, Serialize};

use super::{Deviation, Errors, Input};
use crate::formula::{Node, NodeKind};

/// Standard uncertainty over value from which on first order is not trusted.
const LARGE: f64 = 0.1;

/// How deviations are passed on.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
pub enum Method {
    /// Sensitivities (JCGM 100:2008, 5.1.2).
    FirstOrder,
    /// Draws (JCGM 101:2008).
    MonteCarlo,
}

impl Method {
    /// The method for a formula with the given result, in SI, and its deviation to first order.
    pub fn of(node: &Node, inputs: &[Input], result: f64, deviation: &Deviation, errors: &Errors) -> Self {
        let standard = deviation.standard(errors);
        if standard > 0.0 && (standard > LARGE * result.abs() || has_kink(node, inputs)) {
            Self::MonteCarlo
        } else {
            Self::FirstOrder
        }
    }
}

/// Whether a function with kinks is given something uncertain.
fn has_kink(node: &Node, inputs: &[Input]) -> bool {
    match &node.kind {
        NodeKind::Number(_) | NodeKind::Name(_) => false,
        NodeKind::Negative(inner) => has_kink(inner, inputs),
        NodeKind::Binary(_, left, right) | NodeKind::Compare(_, left, right) => {
            has_kink(left, inputs) || has_kink(right, inputs)
        }
        NodeKind::Call(function, arguments) => {
            let mut uncertain = false;
            node.names(&mut |name, _| uncertain |= inputs.iter().any(|input| input.name == name));
            (function.kinked && uncertain) || arguments.iter().any(|argument| has_kink(argument, inputs))
        }
    }
}

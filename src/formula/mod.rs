//! Formulas. In: what an author writes and the values of one student. Out: dimensions proved, numbers, and the working
//! a student can follow. It must know nothing of files, benches or pages.

mod advice;
mod check;
mod evaluate;
mod fault;
mod fit;
mod function;
pub mod functions;
pub mod math;
mod parse;
mod rows;
mod slip;
mod symbol;
mod tree;
mod types;
mod value;
pub mod working;

pub use check::{check, expect};
pub use evaluate::{EvaluationError, Values, evaluate, holds, margin};
pub use fault::FormulaError;
pub use fit::{Approach, Curve, CurveFit, FitError, Line};
pub use function::Function;
pub use math::Math;
pub use parse::{is_name, parse};
pub use symbol::Symbol;
pub use tree::{Node, NodeKind, Operator, Relation};
pub use types::{Absence, Scope, Shape, Type};
pub use value::Value;

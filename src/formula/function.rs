//! What a function of the formula language is. In: argument types and values. Out: a type and values.
//! It must list no functions: the table is in `functions`.

use super::{EvaluationError, FormulaError, Node, NodeKind, Shape, Type};
use crate::quantity::Kind;

/// A function of the formula language.
#[derive(Debug)]
pub struct Function {
    /// Its name, from mathematics or the trade.
    pub name: &'static str,
    /// How it is written.
    pub pattern: &'static str,
    /// What it gives, for authors.
    pub about: &'static str,
    pub(crate) arguments: &'static [Argument],
    /// How many of the last arguments may be left out.
    pub(crate) optional: usize,
    pub(crate) result: Outcome,
    pub(crate) body: Body,
    pub(crate) look: Look,
    /// Whether its value bends sharply where one reading overtakes another.
    pub(crate) kinked: bool,
    /// Whether it is a least-squares fit: smooth in its readings, and dear to repeat.
    pub(crate) fitted: bool,
    /// By how much the value of a search moves per unit of each reading of its first argument, where that is known
    /// without searching again.
    pub(crate) by_reading: Option<Sensitivity>,
}

/// The sensitivity of a fit's value to each ordinate.
pub(crate) type Sensitivity = fn(&[&[f64]]) -> Result<Vec<f64>, EvaluationError>;

/// What an argument may be.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Argument {
    /// A column of ordinates; its dimension is bound to y.
    ColumnY,
    /// A column of abscissae; its dimension is bound to x.
    ColumnX,
    /// A number of the dimension of x.
    AtX,
    /// A plain number or column of plain numbers.
    Pure,
    /// A number or column of any dimension, bound to y.
    Any,
    /// A temperature on a scale.
    Temperature,
}

/// What a function gives.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Outcome {
    /// Like y, one number.
    Y,
    /// Like y, in the shape of the argument.
    SameY,
    /// The difference of two y, one number.
    DifferenceY,
    /// The difference of two y, a column.
    DifferencesY,
    /// Like x, a column.
    ColumnX,
    /// The difference of two x, one number.
    DifferenceX,
    /// y over x.
    Slope,
    /// y times x.
    Area,
    /// A plain number in the shape of the argument.
    Pure,
    /// The square root of y.
    Root,
    /// An absolute temperature, to be multiplied with.
    Absolute,
}

/// The columns and numbers of one draw to a column.
pub(crate) type ToColumn = fn(&[&[f64]]) -> Result<Vec<f64>, EvaluationError>;

/// How a function computes, draw by draw.
#[derive(Debug, Clone, Copy)]
pub(crate) enum Body {
    /// Number by number.
    Each(fn(f64) -> f64),
    /// From columns and numbers to one number.
    Number(fn(&[&[f64]]) -> Result<f64, EvaluationError>),
    /// From columns to a column.
    Column(ToColumn),
}

/// How a function is set in a line of mathematics.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Look {
    /// Its reading with the row it stands in: `T(10 min)`.
    Reading,
    /// The name before brackets: `ln(x)`.
    Name(&'static str),
    /// Under a root.
    Root,
    /// Between bars.
    Bars,
    /// Under an overline.
    Mean,
    /// What a drawn or fitted curve gives, `T_lim`; in numbers, with the rows that it is fitted to.
    Curve(&'static str),
    /// A quotient of differences, between two points of the fitted line.
    Slope,
    /// What a line reaches at zero, from the same two points.
    Intercept,
    /// A sum of trapezia.
    Area,
    /// One of the readings, with the row that it stands in.
    Extreme(&'static str),
    /// The Celsius temperature with 273.15 K added, in brackets.
    Absolute,
}

/// The text of a number that has no unit.
fn bare(node: &Node) -> Option<&str> {
    match &node.kind {
        NodeKind::Number(quantity) if quantity.unit.print().is_empty() => Some(&quantity.text),
        _ => None,
    }
}

impl Function {
    /// The type of a call.
    pub(crate) fn check(&self, arguments: &[Node], types: &[Type]) -> Result<Type, FormulaError> {
        let mut y: Option<Type> = None;
        let mut x: Option<Type> = None;
        let mut shape = Shape::Scalar;
        for ((node, found), wanted) in arguments.iter().zip(types).zip(self.arguments) {
            let fail = |label: &str| {
                Err(FormulaError::new(
                    node.span.clone(),
                    format!("`{}` is given {}", self.name, found.words()),
                    format!("expected {label}"),
                )
                .hint(match (&node.kind, wanted) {
                    (NodeKind::Name(name), Argument::ColumnY) if found.shape == Shape::Scalar => {
                        format!("`{name}` is one number: write it without `{}`, or name a column", self.name)
                    }
                    (_, Argument::Temperature) => format!("leave `{}` out: a difference is in kelvins", self.name),
                    (_, Argument::AtX) if bare(node).is_some() => {
                        format!("write the number with its unit, as in `{}`", self.pattern)
                    }
                    _ => format!("write `{}`", self.pattern),
                }))
            };
            if matches!(wanted, Argument::ColumnY | Argument::ColumnX) && found.shape == Shape::Scalar {
                return fail("a column of readings");
            }
            if matches!(wanted, Argument::AtX) && found.shape == Shape::Column {
                return fail("one number, not a column");
            }
            match wanted {
                Argument::ColumnY | Argument::Any => y = Some(*found),
                Argument::ColumnX => x = Some(*found),
                Argument::AtX => {
                    if x.is_some_and(|x| x.dimension != found.dimension || x.kind != found.kind) {
                        return fail(&x.map_or_else(String::new, |x| x.words()));
                    }
                }
                Argument::Pure if matches!(self.name, "sin" | "cos" | "tan") && bare(node).is_some() => {
                    let number = bare(node).unwrap_or_default();
                    return Err(FormulaError::new(
                        node.span.clone(),
                        format!("`{}` is given a number without a unit", self.name),
                        "degrees or radians",
                    )
                    .hint(format!("write `{0}({number}°)` or `{0}({number} rad)`", self.name)));
                }
                Argument::Pure if !found.dimension.is_one() => return fail("a plain number"),
                Argument::Temperature if found.kind != Kind::Point => return fail("a temperature"),
                Argument::Pure | Argument::Temperature => {}
            }
            if found.shape == Shape::Column {
                shape = Shape::Column;
            }
        }
        let pure = Type::scalar(crate::quantity::Dimension::ONE);
        let (y, x) = (y.unwrap_or(pure), x.unwrap_or(pure));
        Ok(match self.result {
            Outcome::Y => y.shaped(Shape::Scalar),
            Outcome::SameY => y.shaped(shape),
            Outcome::DifferenceY => y.plain().shaped(Shape::Scalar),
            Outcome::DifferencesY => y.plain().shaped(Shape::Column),
            Outcome::ColumnX => x.shaped(Shape::Column),
            Outcome::DifferenceX => x.plain().shaped(Shape::Scalar),
            Outcome::Slope => Type::scalar(y.dimension / x.dimension),
            Outcome::Area => Type::scalar(y.dimension * x.dimension),
            Outcome::Pure => pure.shaped(shape),
            Outcome::Root => Type { dimension: y.dimension.pow((1, 2).into()), ..y.plain() }.shaped(shape),
            Outcome::Absolute => types.first().copied().unwrap_or(pure).plain(),
        })
    }
}

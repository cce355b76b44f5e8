//! Proves dimensions before anything is computed. In: a tree and the types of names. Out: its type, or every fault in it.
//! It must not look at values.

use super::{FormulaError, Node, NodeKind, Operator, Scope, Shape, Type, advice};
use crate::quantity::{Dimension, Kind};

/// The type of a formula.
///
/// # Errors
/// Every fault of the formula, in order of place: unknown names, sums of unlike quantities, products of temperatures.
pub fn check(node: &Node, scope: &dyn Scope) -> Result<Type, Vec<FormulaError>> {
    let mut checker = Checker { scope, faults: Vec::new() };
    match checker.type_of(node) {
        Some(found) if checker.faults.is_empty() => Ok(found),
        _ => Err(advice::once(checker.faults, node, scope)),
    }
}

/// Compares the type of a whole formula with what its place asks for.
///
/// # Errors
/// One fault over the whole formula that names the factor between the two.
pub fn expect(node: &Node, found: Type, wanted: Type, what: &str, scope: &dyn Scope) -> Result<(), FormulaError> {
    let expected = |label: String, message: String, hint: String| {
        Err(FormulaError::new(node.span.clone(), message, label).hint(hint))
    };
    let fail = |message: String, hint: String| expected(format!("expected {}", wanted.words()), message, hint);
    if found.shape != wanted.shape {
        return match wanted.shape {
            Shape::Scalar => expected(
                "expected one number".to_owned(),
                format!("{what} is one number, but the formula gives a column"),
                "pick a row with `first`, `last` or `at`, or take `mean`, `max` or `slope`".to_owned(),
            ),
            Shape::Column => expected(
                "expected a column".to_owned(),
                format!("{what} is a column, but the formula gives one number"),
                "use a column of the readings in it".to_owned(),
            ),
        };
    }
    if found.dimension != wanted.dimension {
        let mend = advice::lacking("", found.dimension, wanted.dimension);
        return fail(
            format!("the formula gives {}, but {what} is {}", found.words(), wanted.words()),
            match (advice::ambiguous(node, scope), advice::bare(node)) {
                (Some(hint), _) => format!("{hint}; else {mend}, or state another unit"),
                (None, Some(number)) => format!("does `{number}` lack its unit? else {mend}, or state another unit"),
                (None, None) => format!("{mend}, or state another unit"),
            },
        );
    }
    if found.kind != wanted.kind {
        return fail(
            format!("the formula gives {}, but {what} is {}", kind_words(found), kind_words(wanted)),
            match wanted.kind {
                Kind::Point => "write `unit: K`: a difference of temperatures is given in kelvins".to_owned(),
                Kind::Plain => "write `unit: °C`, or take the difference to another temperature".to_owned(),
            },
        );
    }
    Ok(())
}

fn kind_words(found: Type) -> &'static str {
    match found.kind {
        Kind::Point => "a temperature",
        Kind::Plain => "a temperature difference",
    }
}

struct Checker<'a> {
    scope: &'a dyn Scope,
    faults: Vec<FormulaError>,
}

impl Checker<'_> {
    fn type_of(&mut self, node: &Node) -> Option<Type> {
        match &node.kind {
            NodeKind::Number(quantity) => {
                let unit = &quantity.unit;
                Some(Type { dimension: unit.dimension(), kind: unit.kind(), shape: Shape::Scalar })
            }
            NodeKind::Name(name) => self.name(node, name),
            NodeKind::Negative(inner) => {
                let found = self.type_of(inner)?;
                self.refuse_point(inner, found, "given another sign")
            }
            NodeKind::Binary(operator, left, right) => {
                let (left_type, right_type) = (self.type_of(left), self.type_of(right));
                self.binary(node, *operator, (left, left_type?), (right, right_type?))
            }
            NodeKind::Compare(_, left, right) => {
                let (left_type, right_type) = (self.type_of(left), self.type_of(right));
                let (left_type, right_type) = (left_type?, right_type?);
                if left_type.dimension != right_type.dimension || left_type.kind != right_type.kind {
                    self.unlike(node, "compared with", left_type, right_type);
                    return None;
                }
                let shape = if left_type.shape == Shape::Column { Shape::Column } else { right_type.shape };
                Some(Type::scalar(Dimension::ONE).shaped(shape))
            }
            NodeKind::Call(function, arguments) => {
                let types: Vec<_> = arguments.iter().map(|argument| self.type_of(argument)).collect();
                let types: Vec<_> = types.into_iter().collect::<Option<_>>()?;
                function.check(arguments, &types).map_err(|fault| self.faults.push(fault)).ok()
            }
        }
    }

    fn name(&mut self, node: &Node, name: &str) -> Option<Type> {
        let found = self.scope.type_of(name);
        if found.is_none() {
            self.faults.extend(advice::absent(node, name, self.scope));
        }
        found
    }

    fn binary(
        &mut self,
        node: &Node,
        operator: Operator,
        (left, left_type): (&Node, Type),
        (right, right_type): (&Node, Type),
    ) -> Option<Type> {
        let shape = if left_type.shape == Shape::Column { Shape::Column } else { right_type.shape };
        match operator {
            Operator::Add | Operator::Subtract => self.sum(node, operator, left_type, right_type, shape),
            Operator::Multiply | Operator::Divide => {
                let left_type = self.refuse_point(left, left_type, "multiplied or divided")?;
                let right_type = self.refuse_point(right, right_type, "multiplied or divided")?;
                let dimension = match operator {
                    Operator::Multiply => left_type.dimension * right_type.dimension,
                    _ => left_type.dimension / right_type.dimension,
                };
                Some(Type::scalar(dimension).shaped(shape))
            }
            Operator::Power => {
                let base = self.refuse_point(left, left_type, "raised to a power")?;
                self.power(right, base, right_type, shape)
            }
        }
    }

    fn sum(&mut self, node: &Node, operator: Operator, left: Type, right: Type, shape: Shape) -> Option<Type> {
        if left.dimension != right.dimension {
            let words = if operator == Operator::Add { "added to" } else { "subtracted from" };
            if operator == Operator::Add {
                self.unlike(node, words, left, right);
            } else {
                self.unlike(node, words, right, left);
            }
            return None;
        }
        let kind = match (operator, left.kind, right.kind) {
            (Operator::Add, Kind::Point, Kind::Point) => {
                self.faults.push(
                    FormulaError::new(node.span.clone(), "a temperature is added to a temperature", "has no meaning")
                        .hint("take a difference of temperatures, or the mean of a column"),
                );
                return None;
            }
            (Operator::Subtract, Kind::Plain, Kind::Point) => {
                self.faults.push(
                    FormulaError::new(
                        node.span.clone(),
                        "a temperature is subtracted from a temperature difference",
                        "has no meaning",
                    )
                    .hint("swap the two, or take the difference of two temperatures"),
                );
                return None;
            }
            (Operator::Subtract, Kind::Point, Kind::Point) | (_, Kind::Plain, Kind::Plain) => Kind::Plain,
            _ => Kind::Point,
        };
        Some(Type { kind, shape, ..left })
    }

    fn power(&mut self, exponent: &Node, base: Type, exponent_type: Type, shape: Shape) -> Option<Type> {
        if !exponent_type.dimension.is_one() || exponent_type.kind == Kind::Point {
            let message = format!("an exponent is {}", exponent_type.words());
            self.faults.push(
                FormulaError::new(exponent.span.clone(), message, "expected a plain number")
                    .hint("divide it by a quantity of its own kind first, such as `exp(-t / tau)`"),
            );
            return None;
        }
        if base.dimension.is_one() {
            return Some(base.shaped(shape));
        }
        match constant(exponent).and_then(Dimension::exponent) {
            Some(ratio) => Some(Type { dimension: base.dimension.pow(ratio), ..base }),
            None => {
                self.faults.push(
                    FormulaError::new(
                        exponent.span.clone(),
                        format!("the exponent of {} is not a fixed fraction", base.words()),
                        "expected a number such as 2 or 0.5",
                    )
                    .hint("divide the base by a quantity of its own kind first"),
                );
                None
            }
        }
    }

    fn refuse_point(&mut self, node: &Node, found: Type, doing: &str) -> Option<Type> {
        if found.kind == Kind::Plain {
            return Some(found);
        }
        self.faults.push(
            FormulaError::new(node.span.clone(), format!("a temperature in °C can not be {doing}"), "a temperature")
                .hint("use a difference such as `last(T) - first(T)`, or `absolute(T)` for kelvins"),
        );
        None
    }

    fn unlike(&mut self, node: &Node, doing: &str, left: Type, right: Type) {
        let message = format!("{} is {doing} {}", left.words(), right.words());
        let error = FormulaError::new(node.span.clone(), message, "both sides must be of one kind");
        self.faults.push(error.hint(advice::unlike(node, left, right)));
    }
}

/// The value of an exponent that is a number, a signed number or a quotient of numbers.
fn constant(node: &Node) -> Option<f64> {
    match &node.kind {
        NodeKind::Number(quantity) => Some(quantity.si()),
        NodeKind::Negative(inner) => Some(-constant(inner)?),
        NodeKind::Binary(Operator::Divide, left, right) => Some(constant(left)? / constant(right)?),
        _ => None,
    }
}

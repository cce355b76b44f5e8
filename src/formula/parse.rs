//! Text to tree. In: a formula as an author writes it. Out: its tree, or the place where reading stopped.
//! It must not ask what a name means.

use pest::{
    Parser,
    iterators::{Pair, Pairs},
    pratt_parser::{Assoc, Op, PrattParser},
};
use std::{ops::Range, sync::LazyLock};

use super::{FormulaError, Node, NodeKind, Operator, Relation, functions, slip};
use crate::quantity::Quantity;

#[derive(pest_derive::Parser)]
#[grammar = "formula/grammar.pest"]
struct Grammar;

static PRECEDENCE: LazyLock<PrattParser<Rule>> = LazyLock::new(|| {
    PrattParser::new()
        .op(Op::infix(Rule::add, Assoc::Left) | Op::infix(Rule::subtract, Assoc::Left))
        .op(Op::infix(Rule::multiply, Assoc::Left) | Op::infix(Rule::divide, Assoc::Left))
        .op(Op::prefix(Rule::sign))
        .op(Op::infix(Rule::power, Assoc::Right))
});

/// Reads a formula or a condition.
///
/// # Errors
/// A [`FormulaError`] with the place where the text stops being a formula, or names an unknown function or unit.
pub fn parse(text: &str) -> Result<Node, FormulaError> {
    let mut pairs = Grammar::parse(Rule::formula, text).map_err(|error| slip::syntax(text, stop(&error)))?;
    match pairs.next() {
        Some(relation) => read_relation(relation),
        None => Err(FormulaError::new(0..text.len(), "a formula is empty", "expected a formula")),
    }
}

/// The place where the parser stopped.
fn stop(error: &pest::error::Error<Rule>) -> usize {
    match error.location {
        pest::error::InputLocation::Pos(at) | pest::error::InputLocation::Span((at, _)) => at,
    }
}

fn span(pair: &Pair<'_, Rule>) -> Range<usize> {
    let found = pair.as_span();
    found.start()..found.start() + found.as_str().trim_end().len()
}

fn read_relation(pair: Pair<'_, Rule>) -> Result<Node, FormulaError> {
    let whole = span(&pair);
    let mut parts = pair.into_inner();
    let left = match parts.next() {
        Some(sum) => read_sum(sum)?,
        None => return Err(FormulaError::new(whole, "a formula is empty", "expected a formula")),
    };
    let (Some(compare), Some(sum)) = (parts.next(), parts.next()) else { return Ok(left) };
    let relation = match compare.as_str() {
        "<" => Relation::Less,
        "<=" | "≤" => Relation::AtMost,
        ">" => Relation::Greater,
        _ => Relation::AtLeast,
    };
    Ok(Node { kind: NodeKind::Compare(relation, Box::new(left), Box::new(read_sum(sum)?)), span: whole })
}

fn read_sum(pair: Pair<'_, Rule>) -> Result<Node, FormulaError> {
    read_pairs(pair.into_inner())
}

fn read_pairs(pairs: Pairs<'_, Rule>) -> Result<Node, FormulaError> {
    PRECEDENCE
        .map_primary(read_operand)
        .map_prefix(|sign, inner| {
            let inner = inner?;
            Ok(Node { span: span(&sign).start..inner.span.end, kind: NodeKind::Negative(Box::new(inner)) })
        })
        .map_infix(|left, sign, right| {
            let (left, right) = (left?, right?);
            let operator = match sign.as_rule() {
                Rule::add => Operator::Add,
                Rule::subtract => Operator::Subtract,
                Rule::multiply => Operator::Multiply,
                Rule::divide => Operator::Divide,
                _ => Operator::Power,
            };
            let span = left.span.start..right.span.end;
            Ok(Node { kind: NodeKind::Binary(operator, Box::new(left), Box::new(right)), span })
        })
        .parse(pairs)
}

fn read_operand(pair: Pair<'_, Rule>) -> Result<Node, FormulaError> {
    let whole = span(&pair);
    match pair.as_rule() {
        Rule::quantity => read_quantity(pair, whole),
        Rule::call => read_call(pair, whole),
        Rule::sum => read_sum(pair),
        _ => Ok(Node { kind: NodeKind::Name(pair.as_str().to_owned()), span: whole }),
    }
}

fn read_quantity(pair: Pair<'_, Rule>, whole: Range<usize>) -> Result<Node, FormulaError> {
    let text = pair.as_str().to_owned();
    let quantity: Quantity = text.parse().map_err(|fault: crate::quantity::QuantityError| {
        let start = whole.start + fault.span.start;
        let error = FormulaError::new(start..whole.start + fault.span.end, fault.message, "not a unit");
        let mut parts = pair.clone().into_inner().map(|part| part.as_str());
        let product = match (parts.next(), parts.next()) {
            (Some(number), Some(unit)) => format!("write `{number} * {unit}` to multiply by a quantity"),
            _ => return error,
        };
        match fault.hint.filter(|hint| hint.starts_with("did you mean") || hint.starts_with("write")) {
            Some(hint) => error.hint(format!("{hint}; {product}")),
            None => error.hint(product),
        }
    })?;
    Ok(Node { kind: NodeKind::Number(quantity), span: whole })
}

fn read_call(pair: Pair<'_, Rule>, whole: Range<usize>) -> Result<Node, FormulaError> {
    let mut parts = pair.into_inner();
    let Some(name) = parts.next() else {
        return Err(FormulaError::new(whole, "a function has no name", "expected a function"));
    };
    let Some(function) = functions::find(name.as_str()) else {
        let found = name.as_str();
        let error = FormulaError::new(span(&name), format!("unknown function `{found}`"), "no such function");
        return Err(error.hint(slip::unknown_function(found)));
    };
    let arguments = parts.map(read_sum).collect::<Result<Vec<_>, _>>()?;
    let (least, most) = (function.arguments.len() - function.optional, function.arguments.len());
    if arguments.len() < least || arguments.len() > most {
        let wanted = if least == most { format!("{least}") } else { format!("{least} or {most}") };
        let found = arguments.len();
        return Err(FormulaError::new(
            whole,
            format!("`{}` is given {found} {}", function.name, if found == 1 { "argument" } else { "arguments" }),
            format!("expected {wanted}"),
        )
        .hint(format!("write `{}`", function.pattern)));
    }
    Ok(Node { kind: NodeKind::Call(function, arguments), span: whole })
}

/// Whether `name` could be read as the name of a quantity; functions stand before a bracket, so their names are free.
pub fn is_name(name: &str) -> bool {
    Grammar::parse(Rule::name, name).is_ok_and(|mut pairs| pairs.next().is_some_and(|pair| pair.as_str() == name))
}

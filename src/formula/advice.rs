//! How to mend a formula whose parts do not fit. In: a tree, types, the names around it. Out: hints.
//! It must not decide what is wrong.

use super::{Absence, FormulaError, Node, NodeKind, Operator, Scope, Type, functions};
use crate::quantity::{Dimension, Kind, Unit, familiar};

/// The fault of a name that has no type; none where its own definition is at fault.
pub(super) fn absent(node: &Node, name: &str, scope: &dyn Scope) -> Option<FormulaError> {
    let fault = |message: String, label: &str| FormulaError::new(node.span.clone(), message, label);
    let known = scope.names();
    let near = || crate::report::nearest(name, known.iter().copied());
    Some(match scope.absence(name) {
        Absence::Faulty => return None,
        Absence::Later => fault(format!("`{name}` is asked for in a later task"), "not known yet")
            .hint(format!("move the task `{name}` above this one, or use what it is calculated from")),
        Absence::Own => fault(format!("`{name}` is the answer of this very task"), "not known yet")
            .hint("write what the answer is calculated from"),
        Absence::Wordless => fault(format!("the task `{name}` has no number as its answer"), "has no value")
            .hint("use a quantity, a reading, or a task with a `number` or a `column`"),
        Absence::Unknown => {
            let error = fault(format!("unknown name `{name}`"), "not known here");
            let is_unit = Unit::parse(name).is_ok();
            let raised = name.find(['²', '³']);
            match (near().filter(|_| !is_unit), raised) {
                (_, Some(at)) => error.hint(format!(
                    "write the power with `^`: `{}^{}`",
                    &name[..at],
                    if name[at..].starts_with('²') { 2 } else { 3 }
                )),
                (Some(near), _) => error.hint(format!("did you mean `{near}`?")),
                (None, _) if matches!(name, "pi" | "π") => error.hint("write `3.1416`"),
                (None, _) if functions::find(name).is_some() => {
                    error.hint(format!("what a function is taken of stands in brackets: `{name}(T)`"))
                }
                (None, _) if is_unit => error.hint(format!(
                    "a unit stands behind its number, as in `10 {name}`; known here: {}",
                    known.join(", ")
                )),
                (None, _) => error.hint(format!("known here: {}", known.join(", "))),
            }
        }
    })
}

/// The faults of one formula, each once, with a word on a number that may not mean what its author thinks.
pub(super) fn once(faults: Vec<FormulaError>, node: &Node, scope: &dyn Scope) -> Vec<FormulaError> {
    let doubt = ambiguous(node, scope);
    let mut kept: Vec<FormulaError> = Vec::new();
    for fault in faults {
        if kept.iter().any(|other| other.message == fault.message) {
            continue;
        }
        kept.push(match (&doubt, &fault.hint) {
            (Some(doubt), Some(hint)) => {
                let hint = format!("{doubt}; else {hint}");
                fault.hint(hint)
            }
            _ => fault,
        });
    }
    kept
}

/// How to mend a sum or comparison of unlike sides.
pub(super) fn unlike(node: &Node, left: Type, right: Type) -> String {
    const TEMPERATURES: &str = "a difference of temperatures has the unit `K`, a temperature has `°C`";
    let sides = match &node.kind {
        NodeKind::Binary(_, one, other) | NodeKind::Compare(_, one, other) => [Some(&**one), Some(&**other)],
        _ => [None, None],
    };
    let number = sides.iter().flatten().find_map(|side| match &side.kind {
        NodeKind::Number(quantity) => Some(quantity),
        _ => None,
    });
    if left.dimension == right.dimension {
        return match number {
            Some(number) => {
                let unit = if number.unit.kind() == Kind::Point { "K" } else { "°C" };
                format!("write `{} {unit}`: {TEMPERATURES}", number.text)
            }
            None => TEMPERATURES.to_owned(),
        };
    }
    let other = if left.dimension.is_one() { right } else { left };
    match (number.filter(|number| number.unit.print().is_empty()), symbol(other)) {
        (Some(number), Some(unit)) => format!("write the number with its unit, such as `{} {unit}`", number.text),
        _ => {
            let object = format!("the side that is {} ", left.words());
            format!("one of them lacks a factor: {}", lacking(&object, left.dimension, right.dimension))
        }
    }
}

/// The factor that would turn one dimension into the other, in words; `object` is what to multiply.
pub(super) fn lacking(object: &str, found: Dimension, wanted: Dimension) -> String {
    let factor = wanted / found;
    let inverse = found / wanted;
    let positive = |dimension: Dimension| !dimension.is_one() && !dimension.to_string().contains('⁻');
    if positive(inverse) && !positive(factor) {
        format!("divide {object}by {}", familiar(inverse))
    } else {
        format!("multiply {object}by {}", familiar(factor))
    }
}

/// A number without a unit in a sum or product, which may lack one.
pub(super) fn bare(node: &Node) -> Option<&str> {
    match &node.kind {
        NodeKind::Number(quantity) if quantity.unit.print().is_empty() => Some(&quantity.text),
        NodeKind::Negative(inner) => bare(inner),
        NodeKind::Binary(Operator::Power, base, _) => bare(base),
        NodeKind::Binary(_, left, right) => bare(left).or_else(|| bare(right)),
        _ => None,
    }
}

/// A number whose unit has the name of a quantity: `2 m` where `m` is a mass.
pub(super) fn ambiguous(node: &Node, scope: &dyn Scope) -> Option<String> {
    match &node.kind {
        NodeKind::Number(quantity) => {
            let unit = quantity.unit.print();
            let meant = scope.type_of(&unit).is_some_and(|meant| meant.dimension != quantity.dimension());
            meant.then(|| {
                let number = &quantity.text;
                let is = familiar(quantity.dimension());
                format!("`{number} {unit}` is {is}: write `{number} * {unit}` to multiply by the quantity")
            })
        }
        NodeKind::Negative(inner) => ambiguous(inner, scope),
        NodeKind::Binary(_, left, right) | NodeKind::Compare(_, left, right) => {
            ambiguous(left, scope).or_else(|| ambiguous(right, scope))
        }
        NodeKind::Call(_, arguments) => arguments.iter().find_map(|argument| ambiguous(argument, scope)),
        NodeKind::Name(_) => None,
    }
}

/// The SI unit of a type as somebody would write it, where it has a short name.
fn symbol(wanted: Type) -> Option<String> {
    if wanted.kind == Kind::Point {
        return Some("°C".to_owned());
    }
    let words = familiar(wanted.dimension);
    Some(words.strip_suffix(')')?.rsplit_once('(')?.1.to_owned())
}

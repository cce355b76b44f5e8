//! The formula as a tree. In: what the parser found. Out: nodes with the place they came from.
//! A tree must hold no value of any student.

use std::ops::Range;

use super::Function;
use crate::quantity::Quantity;

/// A part of a formula with the bytes of the text that it stands for.
#[derive(Debug, Clone)]
pub struct Node {
    /// What the part is.
    pub kind: NodeKind,
    /// Where it stands in the formula's text.
    pub span: Range<usize>,
}

/// What a part of a formula is.
#[derive(Debug, Clone)]
pub enum NodeKind {
    /// A number, with or without a unit.
    Number(Quantity),
    /// A quantity, a column of readings, or an earlier answer.
    Name(String),
    /// A change of sign.
    Negative(Box<Node>),
    /// Two parts joined by arithmetic.
    Binary(Operator, Box<Node>, Box<Node>),
    /// A function of the table in `functions`.
    Call(&'static Function, Vec<Node>),
    /// Two parts compared; only at the top of a condition.
    Compare(Relation, Box<Node>, Box<Node>),
}

/// The arithmetic of formulas.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Operator {
    /// Sum.
    Add,
    /// Difference.
    Subtract,
    /// Product.
    Multiply,
    /// Quotient.
    Divide,
    /// Power; the exponent is a plain number.
    Power,
}

/// How a condition compares.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Relation {
    /// Less than.
    Less,
    /// Less than or equal to.
    AtMost,
    /// Greater than.
    Greater,
    /// Greater than or equal to.
    AtLeast,
}

impl Relation {
    /// Whether `left` stands in this relation to `right`.
    pub fn holds(self, left: f64, right: f64) -> bool {
        match self {
            Self::Less => left < right,
            Self::AtMost => left <= right,
            Self::Greater => left > right,
            Self::AtLeast => left >= right,
        }
    }
}

impl Node {
    /// Calls `visit` with this part and all parts of it, each before its own parts, from left to right.
    pub fn visit<'a>(&'a self, visit: &mut dyn FnMut(&'a Self)) {
        visit(self);
        match &self.kind {
            NodeKind::Number(_) | NodeKind::Name(_) => {}
            NodeKind::Negative(inner) => inner.visit(visit),
            NodeKind::Binary(_, left, right) | NodeKind::Compare(_, left, right) => {
                left.visit(visit);
                right.visit(visit);
            }
            NodeKind::Call(_, arguments) => arguments.iter().for_each(|argument| argument.visit(visit)),
        }
    }

    /// Calls `visit` with every name that the formula uses, in order, repeated names included.
    pub fn names<'a>(&'a self, visit: &mut dyn FnMut(&'a str, &'a Range<usize>)) {
        self.visit(&mut |node| {
            if let NodeKind::Name(name) = &node.kind {
                visit(name, &node.span);
            }
        });
    }

    /// Whether it calls a function that is `wanted`.
    pub(crate) fn calls(&self, wanted: &dyn Fn(&Function) -> bool) -> bool {
        let mut found = false;
        self.visit(&mut |node| found |= matches!(&node.kind, NodeKind::Call(function, _) if wanted(function)));
        found
    }

    /// The tree with names in place of the parts that `choose` names; parts of a chosen part are not asked for.
    pub(crate) fn replaced(&self, choose: &mut dyn FnMut(&Self) -> Option<String>) -> Self {
        if let Some(name) = choose(self) {
            return Self { kind: NodeKind::Name(name), span: self.span.clone() };
        }
        let mut inside = |node: &Self| Box::new(node.replaced(choose));
        let kind = match &self.kind {
            NodeKind::Number(_) | NodeKind::Name(_) => self.kind.clone(),
            NodeKind::Negative(inner) => NodeKind::Negative(inside(inner)),
            NodeKind::Binary(operator, left, right) => NodeKind::Binary(*operator, inside(left), inside(right)),
            NodeKind::Compare(relation, left, right) => NodeKind::Compare(*relation, inside(left), inside(right)),
            NodeKind::Call(function, arguments) => {
                NodeKind::Call(function, arguments.iter().map(|argument| argument.replaced(choose)).collect())
            }
        };
        Self { kind, span: self.span.clone() }
    }

    /// The sum of the tree and a name.
    pub(crate) fn plus(self, name: String) -> Self {
        let span = self.span.clone();
        let right = Self { kind: NodeKind::Name(name), span: span.clone() };
        Self { kind: NodeKind::Binary(Operator::Add, Box::new(self), Box::new(right)), span }
    }
}

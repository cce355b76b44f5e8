//! The working a student can follow. In: a tree, symbols and printed numbers. Out: lines of mathematics and their reading.
//! It must compute nothing: every number that it shows was printed before.

use serde::Deserialize;

use super::{Function, Math, Node, NodeKind, Operator, Relation, function::Look};

/// Zero of the Celsius scale.
const CELSIUS_ZERO: &str = "273.15 K";

/// How a line of mathematics is spoken in a language.
#[derive(Debug, Clone, PartialEq, Eq, Deserialize)]
#[serde(deny_unknown_fields)]
#[expect(missing_docs, reason = "each field is the spoken form of the sign that it is named after")]
pub struct Speech {
    pub equals: String,
    pub plus: String,
    pub minus: String,
    pub times: String,
    pub over: String,
    pub power: String,
    pub root: String,
    pub magnitude: String,
    pub mean: String,
    pub of: String,
    pub at: String,
    pub open: String,
    pub close: String,
    pub less: String,
    pub at_most: String,
    pub greater: String,
    pub at_least: String,
}

/// What a reader sees of names and readings.
pub trait Notes {
    /// The symbol of a name.
    fn symbol(&self, name: &str) -> Option<Math>;

    /// The printed number of a name with its unit.
    fn number(&self, name: &str) -> Option<String>;

    /// The printed reading of a column in a row, with its unit.
    fn reading(&self, column: &str, row: usize) -> Option<String>;

    /// How many rows a column has.
    fn rows(&self, column: &str) -> usize;

    /// What stands in the first column in a row, such as `10 min`.
    fn row_name(&self, row: usize) -> Option<String>;

    /// The row that a pick such as `at(T, t, 10 min)` or `max(T)` means.
    fn picked_row(&self, call: &Node) -> Option<usize>;

    /// The rows that a call such as `slope(T, t, 0 s, 60 s)` uses.
    fn used_rows(&self, call: &Node) -> Vec<usize>;

    /// Two points of the line that a call fits, at the ends of its range: abscissa and ordinate with their units.
    fn line_points(&self, call: &Node) -> Option<[(String, String); 2]>;

    /// A number of the formula's own text, with its unit, in the reader's notation.
    fn literal(&self, quantity: &crate::quantity::Quantity) -> String;

    /// How mathematics is spoken.
    fn speech(&self) -> &Speech;
}

/// What stands for a name in a line.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Face {
    Symbols,
    Numbers,
}

/// The relation in symbols.
pub fn symbols(node: &Node, notes: &dyn Notes) -> Math {
    Writer { notes, face: Face::Symbols }.write(node, 0)
}

/// The relation with numbers and units in place of the symbols.
pub fn numbers(node: &Node, notes: &dyn Notes) -> Math {
    Writer { notes, face: Face::Numbers }.write(node, 0)
}

pub(super) struct Writer<'a> {
    pub(super) notes: &'a dyn Notes,
    pub(super) face: Face,
}

/// Whether a part is a number with its unit: a power of it must not look like a power of the unit.
fn has_unit(math: &Math) -> bool {
    let text = math.typst.trim_matches('"');
    math.typst.starts_with('"')
        && text.starts_with(|first: char| first.is_ascii_digit())
        && text.contains(|sign: char| sign.is_alphabetic() || matches!(sign, '°' | '%'))
}

/// How tightly a part binds: sums 1, products 2, powers 3.
fn binding(node: &Node) -> u8 {
    match &node.kind {
        NodeKind::Compare(..) => 0,
        NodeKind::Binary(Operator::Add | Operator::Subtract, ..) | NodeKind::Negative(_) => 1,
        NodeKind::Binary(Operator::Multiply, ..) => 2,
        NodeKind::Binary(Operator::Power, ..) => 3,
        _ => 4,
    }
}

impl Writer<'_> {
    /// Writes a part, in brackets where it binds less than `least`.
    pub(super) fn write(&self, node: &Node, least: u8) -> Math {
        let math = self.bare(node);
        let bracket = binding(node) < least || (least > 1 && math.typst.starts_with("\"−"));
        if bracket { self.bracketed(&math) } else { math }
    }

    pub(super) fn bracketed(&self, math: &Math) -> Math {
        let speech = self.notes.speech();
        Math::new(format!("({})", math.typst), format!("{} {} {}", speech.open, math.alt, speech.close))
    }

    fn bare(&self, node: &Node) -> Math {
        let speech = self.notes.speech();
        match &node.kind {
            NodeKind::Number(quantity) => Math::quoted(&self.notes.literal(quantity)),
            NodeKind::Name(name) => self.name(name),
            NodeKind::Negative(inner) => {
                let inner = self.write(inner, 2);
                Math::new(format!("−{}", inner.typst), format!("{} {}", speech.minus, inner.alt))
            }
            NodeKind::Binary(operator, left, right) => self.binary(*operator, left, right),
            NodeKind::Compare(relation, left, right) => {
                let (sign, spoken) = match relation {
                    Relation::Less => ("<", &speech.less),
                    Relation::AtMost => ("<=", &speech.at_most),
                    Relation::Greater => (">", &speech.greater),
                    Relation::AtLeast => (">=", &speech.at_least),
                };
                Math::join(&self.write(left, 1), sign, spoken, &self.write(right, 1))
            }
            NodeKind::Call(function, arguments) => self.call(node, function, arguments),
        }
    }

    fn name(&self, name: &str) -> Math {
        let symbol = || self.notes.symbol(name).unwrap_or_else(|| Math::quoted(name));
        match self.face {
            Face::Symbols => symbol(),
            Face::Numbers => self.notes.number(name).map_or_else(symbol, |text| Math::quoted(&text)),
        }
    }

    fn binary(&self, operator: Operator, left: &Node, right: &Node) -> Math {
        let speech = self.notes.speech();
        match operator {
            Operator::Add => Math::join(&self.write(left, 1), "+", &speech.plus, &self.write(right, 1)),
            Operator::Subtract => Math::join(&self.write(left, 1), "−", &speech.minus, &self.write(right, 2)),
            Operator::Multiply => Math::join(&self.write(left, 2), "dot", &speech.times, &self.write(right, 2)),
            Operator::Divide => {
                let (top, bottom) = (self.write(left, 0), self.write(right, 0));
                Math::new(
                    format!("frac({}, {})", top.typst, bottom.typst),
                    format!("{} {} {}", self.spoken_group(left, &top), speech.over, self.spoken_group(right, &bottom)),
                )
            }
            Operator::Power => {
                let (base, exponent) = (self.write(left, 4), self.write(right, 0));
                let base = if has_unit(&base) { self.bracketed(&base) } else { base };
                Math::new(
                    format!("{}^({})", base.typst, exponent.typst),
                    format!("{} {} {}", base.alt, speech.power, exponent.alt),
                )
            }
        }
    }

    /// A fraction bar groups for the eye; the ear needs brackets.
    fn spoken_group(&self, node: &Node, math: &Math) -> String {
        if binding(node) < 3 { self.bracketed(math).alt } else { math.alt.clone() }
    }

    fn call(&self, node: &Node, function: &Function, arguments: &[Node]) -> Math {
        let speech = self.notes.speech();
        let wrapped = |open: &str, close: &str, spoken: &str| {
            let inner = self.write(&arguments[0], 0);
            Math::new(format!("{open}{}{close}", inner.typst), format!("{spoken} {}", inner.alt))
        };
        match function.look {
            Look::Absolute => self.absolute(&arguments[0]),
            Look::Root => wrapped("sqrt(", ")", &speech.root),
            Look::Bars => wrapped("abs(", ")", &speech.magnitude),
            Look::Mean => self.mean(arguments),
            Look::Reading => self.reading(node, function, arguments),
            Look::Curve(index) => self.curve(index, node, arguments),
            Look::Slope => self.slope(node, arguments),
            Look::Intercept => self.intercept(node, arguments),
            Look::Area => self.area(node, arguments),
            Look::Extreme(name) => self.extreme(name, node, arguments),
            Look::Name(name) => self.named(name, arguments),
        }
    }

    /// Kelvins from degrees Celsius: readings are printed in these, and no student multiplies with them.
    fn absolute(&self, celsius: &Node) -> Math {
        let reading = self.write(celsius, 1);
        match CELSIUS_ZERO.parse() {
            Ok(zero) => {
                let zero = Math::quoted(&self.notes.literal(&zero));
                self.bracketed(&Math::join(&reading, "+", &self.notes.speech().plus, &zero))
            }
            Err(_) => self.bracketed(&reading),
        }
    }

    pub(super) fn symbol_of(&self, node: &Node) -> Math {
        Writer { notes: self.notes, face: Face::Symbols }.write(node, 4)
    }

    pub(super) fn named(&self, name: &str, arguments: &[Node]) -> Math {
        let inner = self.write(&arguments[0], 0);
        Math::new(
            format!("{}({})", super::math::quote(name), inner.typst),
            format!("{name} {} {}", self.notes.speech().of, inner.alt),
        )
    }

    /// A picked reading: `T(10 min)` in symbols, the reading itself in numbers.
    fn reading(&self, node: &Node, function: &Function, arguments: &[Node]) -> Math {
        let NodeKind::Name(column) = &arguments[0].kind else { return self.named(function.name, arguments) };
        let symbol = self.symbol_of(&arguments[0]);
        let row = self.notes.picked_row(node);
        if let (Face::Numbers, Some(text)) = (self.face, row.and_then(|row| self.notes.reading(column, row))) {
            return Math::quoted(&text);
        }
        let speech = self.notes.speech();
        let place = match (row.and_then(|row| self.notes.row_name(row)), arguments.get(1), arguments.get(2)) {
            (Some(name), _, _) => Math::quoted(&name),
            (None, Some(x), Some(wanted)) => {
                Math::join(&self.symbol_of(x), "=", &speech.equals, &self.write(wanted, 0))
            }
            _ => Math::quoted(function.name),
        };
        // The space keeps the bracket out of the symbol's index.
        Math::new(format!("{} ({})", symbol.typst, place.typst), format!("{} {} {}", symbol.alt, speech.at, place.alt))
    }
}

//! What column functions show of their columns: the rows used, the readings, the points of a line. In: a call and printed
//! readings. Out: mathematics. It must compute nothing: every number that it shows was printed before.

use super::{
    Math, Node, NodeKind,
    math::quote,
    working::{Face, Writer},
};

impl Writer<'_> {
    /// A quotient of a sum and one number.
    fn over(&self, top: &Math, bottom: &str) -> Math {
        let speech = self.notes.speech();
        Math::new(
            format!("frac({}, {bottom})", top.typst),
            format!("{} {} {} {} {bottom}", speech.open, top.alt, speech.close, speech.over),
        )
    }

    /// A quotient of two differences.
    fn fraction(&self, top: &Math, bottom: &Math) -> Math {
        let speech = self.notes.speech();
        let group = |math: &Math| format!("{} {} {}", speech.open, math.alt, speech.close);
        Math::new(
            format!("frac({}, {})", top.typst, bottom.typst),
            format!("{} {} {}", group(top), speech.over, group(bottom)),
        )
    }

    fn plus(&self, left: &Math, right: &Math) -> Math {
        Math::join(left, "+", &self.notes.speech().plus, right)
    }

    /// A difference; a negative number to be taken away stands in brackets.
    fn minus(&self, left: &str, right: &str) -> Math {
        let quoted = Math::quoted(right);
        let right = if right.starts_with('\u{2212}') { self.bracketed(&quoted) } else { quoted };
        Math::join(&Math::quoted(left), "−", &self.notes.speech().minus, &right)
    }

    fn times(&self, left: &Math, right: &Math) -> Math {
        Math::join(left, "dot", &self.notes.speech().times, right)
    }

    /// `(a + b + … + z) / n`.
    pub(super) fn mean(&self, arguments: &[Node]) -> Math {
        let speech = self.notes.speech();
        let symbol = self.symbol_of(&arguments[0]);
        let plain = Math::new(format!("overline({})", symbol.typst), format!("{} {}", speech.mean, symbol.alt));
        let (Face::Numbers, NodeKind::Name(column)) = (self.face, &arguments[0].kind) else { return plain };
        let count = self.notes.rows(column);
        let readings: Vec<Math> =
            (0..count).filter_map(|row| self.notes.reading(column, row)).map(|text| Math::quoted(&text)).collect();
        let sum = match readings.as_slice() {
            [one, other] => self.plus(one, other),
            [one, other, last] => self.plus(&self.plus(one, other), last),
            [one, other, .., last] => self.plus(&self.plus(&self.plus(one, other), &Math::new("dots", "…")), last),
            _ => return plain,
        };
        self.over(&sum, &count.to_string())
    }

    /// `T_lim` in symbols; in numbers `lim T(0 min … 60 min)`, with the rows that are fitted.
    pub(super) fn curve(&self, index: &str, call: &Node, arguments: &[Node]) -> Math {
        let symbol = self.symbol_of(&arguments[0]);
        let plain = Math::new(format!("{}_{}", symbol.typst, quote(index)), format!("{} {index}", symbol.alt));
        let rows = self.notes.used_rows(call);
        let name = |row: Option<&usize>| row.and_then(|&row| self.notes.row_name(row));
        let (Face::Numbers, Some(first), Some(last)) = (self.face, name(rows.first()), name(rows.last())) else {
            return plain;
        };
        let range = format!("{first} … {last}");
        Math::new(
            format!("{} {} ({})", quote(index), symbol.typst, quote(&range)),
            format!("{index} {} {} {range}", symbol.alt, self.notes.speech().at),
        )
    }

    /// `Δy / Δx`; in numbers between two points of the fitted line.
    pub(super) fn slope(&self, call: &Node, arguments: &[Node]) -> Math {
        if let (Face::Numbers, Some([(x1, y1), (x2, y2)])) = (self.face, self.notes.line_points(call)) {
            return self.fraction(&self.minus(&y2, &y1), &self.minus(&x2, &x1));
        }
        let (y, x) = (self.symbol_of(&arguments[0]), self.symbol_of(&arguments[1]));
        Math::new(
            format!("frac(Δ {}, Δ {})", y.typst, x.typst),
            format!("delta {} {} delta {}", y.alt, self.notes.speech().over, x.alt),
        )
    }

    /// `y(x = 0)`; in numbers `y1 − (y2 − y1) / (x2 − x1) · x1`.
    pub(super) fn intercept(&self, call: &Node, arguments: &[Node]) -> Math {
        if let (Face::Numbers, Some([(x1, y1), (x2, y2)])) = (self.face, self.notes.line_points(call)) {
            let slope = self.fraction(&self.minus(&y2, &y1), &self.minus(&x2, &x1));
            let way = self.times(&slope, &Math::quoted(&x1));
            return Math::join(&Math::quoted(&y1), "−", &self.notes.speech().minus, &way);
        }
        let (y, x) = (self.symbol_of(&arguments[0]), self.symbol_of(&arguments[1]));
        let speech = self.notes.speech();
        Math::new(
            format!("{} ({} = 0)", y.typst, x.typst),
            format!("{} {} {} {} 0", y.alt, speech.at, x.alt, speech.equals),
        )
    }

    /// The area in symbols; in numbers its first and last trapezium.
    pub(super) fn area(&self, call: &Node, arguments: &[Node]) -> Math {
        let (y, x) = (self.symbol_of(&arguments[0]), self.symbol_of(&arguments[1]));
        let plain = Math::new(
            format!("sum overline({}) dot Δ {}", y.typst, x.typst),
            format!("Σ {} {} {} delta {}", self.notes.speech().mean, y.alt, self.notes.speech().times, x.alt),
        );
        let (Face::Numbers, NodeKind::Name(y), NodeKind::Name(x)) = (self.face, &arguments[0].kind, &arguments[1].kind)
        else {
            return plain;
        };
        let trapezium = |pair: &[usize]| {
            let reading = |column: &str, row: usize| self.notes.reading(column, row);
            let (y1, y2) = (reading(y, *pair.first()?)?, reading(y, *pair.last()?)?);
            let (x1, x2) = (reading(x, *pair.first()?)?, reading(x, *pair.last()?)?);
            let sum = self.plus(&Math::quoted(&y1), &Math::quoted(&y2));
            let step = self.minus(&x2, &x1);
            Some(self.times(&self.over(&sum, "2"), &self.bracketed(&step)))
        };
        let rows = self.notes.used_rows(call);
        let pairs: Vec<&[usize]> = rows.windows(2).collect();
        let terms: Option<Vec<Math>> = match pairs.as_slice() {
            [] => None,
            [one] => trapezium(one).map(|term| vec![term]),
            [one, other] => [one, other].into_iter().map(|pair| trapezium(pair)).collect(),
            [one, .., last] => {
                trapezium(one).zip(trapezium(last)).map(|(one, last)| vec![one, Math::new("dots", "…"), last])
            }
        };
        let sum = terms.and_then(|terms| terms.into_iter().reduce(|sum, term| self.plus(&sum, &term)));
        sum.map_or(plain, |sum| self.bracketed(&sum))
    }

    /// `max(T)` in symbols; in numbers the reading with the row that it stands in below it.
    pub(super) fn extreme(&self, name: &str, call: &Node, arguments: &[Node]) -> Math {
        let (Face::Numbers, NodeKind::Name(column)) = (self.face, &arguments[0].kind) else {
            return self.named(name, arguments);
        };
        let row = self.notes.picked_row(call);
        let reading = row.and_then(|row| self.notes.reading(column, row));
        match (reading, row.and_then(|row| self.notes.row_name(row))) {
            (Some(reading), Some(place)) => Math::new(
                format!("underbrace({}, {})", quote(&reading), quote(&place)),
                format!("{reading} {} {place}", self.notes.speech().at),
            ),
            _ => self.named(name, arguments),
        }
    }
}

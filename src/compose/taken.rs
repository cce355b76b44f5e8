//! What a key draws in its graph to show how numbers are taken from it: the triangle of a slope, the lines of a reading.
//! In: the tasks of an edition, the scales. Out: lines and numbers in millimetres. It must compute no answer.

use super::{
    Facts,
    graph::{HALF_LABEL_MM, millimetres},
};
use crate::{
    class::Edition,
    experiment::{
        definition::Answered,
        plan::{GraphPlan, NumberPlan, TaskBody},
    },
    formula::{self, Math, Node, NodeKind, Symbol},
    graph::Scale,
    key::line_points,
    quantity::{
        Unit,
        rounding::{self, Rounded},
    },
    sheet::{GuideLine, Label, Side},
};

/// Room that a label takes beside its place, mm.
const ROOM_MM: f64 = 38.0;

/// A graph's axes.
pub(super) struct Window<'a> {
    /// The columns on them.
    pub(super) plan: &'a GraphPlan,
    /// The horizontal scale.
    pub(super) x: Scale,
    /// The vertical scale.
    pub(super) y: Scale,
    /// Whether the line through all points is drawn anyway.
    pub(super) ruled: bool,
}

/// What is drawn.
#[derive(Default)]
pub(super) struct Taken {
    /// Sides of triangles, and lines from a curve to the axes.
    pub(super) lines: Vec<GuideLine>,
    /// The numbers found.
    pub(super) notes: Vec<Label>,
    /// Lines through points that the graph has not got yet.
    pub(super) paths: Vec<Vec<(f64, f64)>>,
}

/// What the tasks of an edition take from a graph.
pub(super) fn taken(facts: &Facts<'_>, edition: Edition, window: &Window<'_>) -> Taken {
    let mut found = Taken::default();
    for (index, task) in facts.experiment.tasks_of(edition) {
        let definition = facts.experiment.definition.tasks[index].number.as_ref();
        let (TaskBody::Number(plan), Some(how)) = (&task.body, definition.map(|number| number.how)) else { continue };
        plan.formula.visit(&mut |node| {
            let NodeKind::Call(function, arguments) = &node.kind else { return };
            let names: Vec<&str> = arguments.iter().take(2).filter_map(name_of).collect();
            let [first, second] = names[..] else { return };
            match (function.name, how) {
                ("slope", Answered::FromDrawnLine) => found.slope(facts, window, node, (first, second)),
                ("interpolate", Answered::ReadFromGraph) => {
                    found.reading(facts, window, node, (first, second), (plan, index));
                }
                _ => {}
            }
        });
    }
    found
}

fn name_of(node: &Node) -> Option<&str> {
    if let NodeKind::Name(name) = &node.kind { Some(name) } else { None }
}

impl Taken {
    /// The triangle under the line between its two points, its sides named with what they measure.
    fn slope(&mut self, facts: &Facts<'_>, window: &Window<'_>, call: &Node, (y, x): (&str, &str)) {
        if x != window.plan.x || !window.plan.heights().any(|height| height == y) {
            return;
        }
        let (Some(y_print), Some(x_print)) = (facts.printed(y), facts.printed(x)) else { return };
        let Some([start, end]) = line_points(call, &facts.key.known, y_print, x_print) else { return };
        let [start, end] = if start.0.value <= end.0.value { [start, end] } else { [end, start] };
        let at = |point: &(Rounded, Rounded)| window.place(point.0.value, point.1.value);
        let (from, to) = (at(&start), at(&end));
        let rises = from.1 <= to.1;
        // The right angle lies below the line.
        let corner = if rises { (to.0, from.1) } else { (from.0, to.1) };
        if self.lines.iter().any(|line| line.to == corner) {
            return;
        }
        let side = |from, to| GuideLine { from, to, dashed: false };
        self.lines.extend([side(from, corner), side(to, corner)]);
        if !window.ruled || matches!(&call.kind, NodeKind::Call(_, arguments) if arguments.len() > 2) {
            self.paths.push(vec![from, to]);
        }
        let length = |name: &str, (unit, places): (&Unit, usize), from: &Rounded, to: &Rounded| {
            let text = rounding::to_places(to.value - from.value, places).text;
            let symbol = facts.symbol_of(name).map(Symbol::math).unwrap_or_default();
            equal(
                facts,
                &Math::new(format!("Δ {}", symbol.typst), format!("Δ {}", symbol.alt)),
                &facts.write(&text, &unit.of_differences()),
            )
        };
        let below = corner.1 > 2.0 * HALF_LABEL_MM;
        let height = corner.1 + if below { -HALF_LABEL_MM } else { HALF_LABEL_MM };
        self.notes.push(Label {
            at: (millimetres((from.0 + to.0) / 2.0), millimetres(height)),
            side: Side::Middle,
            text: length(x, x_print, &start.0, &end.0),
        });
        let outside_fits =
            if rises { corner.0 + ROOM_MM < f64::from(window.x.length_mm()) } else { corner.0 > ROOM_MM };
        self.notes.push(Label {
            at: (corner.0, millimetres((from.1 + to.1) / 2.0)),
            side: if rises == outside_fits { Side::Right } else { Side::Left },
            text: length(y, (y_print.0, y_print.1 + 1), &start.1, &end.1),
        });
    }

    /// The lines from an axis to the curve and on to the other axis, with the number found there.
    fn reading(
        &mut self,
        facts: &Facts<'_>,
        window: &Window<'_>,
        call: &Node,
        (sought, known): (&str, &str),
        (plan, index): (&NumberPlan, usize),
    ) {
        let height = |name: &str| window.plan.heights().any(|height| height == name);
        let upwards = known == window.plan.x && height(sought);
        if !(upwards || sought == window.plan.x && height(known)) {
            return;
        }
        let NodeKind::Call(_, arguments) = &call.kind else { return };
        let number = |node: &Node| formula::evaluate(node, &facts.key.known).ok().map(|value| value.number());
        let (Some(given), Some(result)) = (arguments.get(2).and_then(number), number(call)) else { return };
        let (Some(x_unit), Some(y_unit)) =
            (facts.experiment.axis_unit(&window.plan.x), facts.experiment.axis_unit(&window.plan.y))
        else {
            return;
        };
        let (x, y) = if upwards { (given, result) } else { (result, given) };
        let (x, y) = (x_unit.from_si(x), y_unit.from_si(y));
        let at = window.place(x, y);
        let line = |to| GuideLine { from: at, to, dashed: true };
        self.lines.extend([line((at.0, 0.0)), line((0.0, at.1))]);
        let (value, unit, scale) = if upwards { (y, y_unit, window.y) } else { (x, x_unit, window.x) };
        let own = matches!(&plan.formula.kind, NodeKind::Call(..)) && std::ptr::eq(&plan.formula, call);
        let text = match facts.key.number(index).filter(|_| own) {
            Some(answer) => equal(facts, &plan.symbol.math(), &facts.write(&answer.text, &answer.unit)),
            None => {
                // As fine as half a small square can be read.
                let places = (-libm::floor(libm::log10(scale.per_mm()))).max(0.0) as usize;
                Math::quoted(&facts.write(&rounding::to_places(value, places).text, unit))
            }
        };
        let place = if upwards { (0.0, at.1 + HALF_LABEL_MM) } else { (at.0, HALF_LABEL_MM) };
        let fits = place.0 + ROOM_MM < f64::from(window.x.length_mm());
        let side = if fits { Side::Right } else { Side::Left };
        // One above the other where several would stand in the same place.
        let taken = self
            .notes
            .iter()
            .filter(|note| (note.at.0 - place.0).abs() < ROOM_MM && (note.at.1 - place.1).abs() < 2.0 * HALF_LABEL_MM);
        let lift = 2.0 * HALF_LABEL_MM * taken.count() as f64;
        self.notes.push(Label { at: (place.0, millimetres(place.1 + lift)), side, text });
    }
}

impl Window<'_> {
    fn place(&self, x: f64, y: f64) -> (f64, f64) {
        (millimetres(self.x.position(x)), millimetres(self.y.position(y)))
    }
}

fn equal(facts: &Facts<'_>, symbol: &Math, value: &str) -> Math {
    let value = Math::quoted(value);
    Math::new(
        format!("{} = {}", symbol.typst, value.typst),
        format!("{} {} {}", symbol.alt, facts.language.speech.equals, value.alt),
    )
}

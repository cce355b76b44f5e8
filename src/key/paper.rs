//! What a student's graph paper lets through. In: columns, answers, lines drawn by hand. Out: half a small square in SI,
//! and how far a drawn line may stray. It must use the scale that the key's graph has.

use super::{Cause, ledger::Ledger};
use crate::{
    experiment::{
        Experiment,
        plan::{GraphPlan, TaskBody},
    },
    formula::{self, EvaluationError, Line, Node, NodeKind, Value, Values},
    graph::{GraphPaper, Scale},
    quantity::Unit,
    uncertainty::{Deviation, Distribution, Errors, Input, first_order_rows},
    variant::Known,
};

/// The share of a line that the triangle for its slope spans (common practice, no source).
const TRIANGLE: f64 = 0.5;

/// The paper of one student.
pub(super) struct Paper<'a> {
    experiment: &'a Experiment,
    known: &'a Known,
    sheet: GraphPaper,
}

impl<'a> Paper<'a> {
    pub(super) fn new(experiment: &'a Experiment, known: &'a Known, sheet: GraphPaper) -> Self {
        Self { experiment, known, sheet }
    }

    /// What is judged by eye between the lines of the paper: half a small square, in mm (common practice, no source).
    fn half_mm(&self) -> f64 {
        f64::from(self.sheet.square_mm) / 2.0
    }

    /// Half a small square on the axis that has the unit of task `index`, in SI; nothing where no axis has.
    pub(super) fn square_of_answer(&self, index: usize) -> Option<f64> {
        let TaskBody::Number(plan) = &self.experiment.tasks[index].body else { return None };
        let graphs = self.experiment.tasks.iter().filter_map(|task| match &task.body {
            TaskBody::Graph(graph) => Some(graph),
            _ => None,
        });
        let axis = |graph: &GraphPlan| {
            let beside: Vec<String> = graph.also.iter().chain(&graph.levels).cloned().collect();
            let has_unit = |column: &str| {
                self.experiment.axis_unit(column).is_some_and(|unit| unit.dimension() == plan.unit.dimension())
            };
            if has_unit(&graph.x) {
                Some(self.square(&graph.x, &[], self.sheet.width_mm))
            } else if has_unit(&graph.y) {
                Some(self.square(&graph.y, &beside, self.sheet.height_mm))
            } else {
                None
            }
        };
        graphs.filter_map(axis).next()
    }

    /// Zero, where a graph has a column on a horizontal axis that holds it.
    fn zero(&self, column: &str) -> Option<f64> {
        let held = |body: &TaskBody| matches!(body, TaskBody::Graph(graph) if graph.from_zero && graph.x == column);
        self.experiment.tasks.iter().any(|task| held(&task.body)).then_some(0.0)
    }

    /// Half a small square on an axis `length` long that holds a column with further columns and levels beside it.
    fn square(&self, column: &str, beside: &[String], length: u32) -> f64 {
        let plain = Unit::one();
        let unit = self.experiment.axis_unit(column).unwrap_or(&plain);
        let names = std::iter::once(column).chain(beside.iter().map(String::as_str));
        let numbers = names.filter_map(|name| self.known.value_of(name)).flat_map(Value::data);
        let scale = Scale::of_data(numbers.map(|&si| unit.from_si(si)).chain(self.zero(column)), length);
        self.half_mm() * scale.per_mm() * unit.scale()
    }

    /// Half a small square on the axis of a part of a formula: a column of the table, or numbers without a unit of
    /// their own, which are plotted in SI.
    fn square_of_part(&self, node: &Node, numbers: &[f64], length: u32) -> f64 {
        match &node.kind {
            NodeKind::Name(name) => self.square(name, &[], length),
            _ => self.half_mm() * Scale::of_data(numbers.iter().copied(), length).per_mm(),
        }
    }

    /// What the slope or intercept of a line drawn by hand may be off by; nothing for any other function.
    pub(super) fn drawn_line(
        &self,
        index: usize,
        call: &Node,
        known: &Known,
        inputs: &[Input],
        ledger: &mut Ledger,
    ) -> Result<Option<Deviation>, EvaluationError> {
        let NodeKind::Call(function, arguments) = &call.kind else { return Ok(None) };
        let [y, x, range @ ..] = arguments.as_slice() else { return Ok(None) };
        if !matches!(function.name, "slope" | "intercept") {
            return Ok(None);
        }
        let (y_all, x_all) = (formula::evaluate(y, known)?, formula::evaluate(x, known)?);
        let ends = range.iter().map(|node| Ok(formula::evaluate(node, known)?.number()));
        let ends: Vec<f64> = ends.collect::<Result<_, EvaluationError>>()?;
        let rows = formula::functions::rows_within(x_all.data(), &ends);
        let (x_used, y_used): (Vec<f64>, Vec<f64>) =
            rows.iter().map(|&row| (x_all.data()[row], y_all.data()[row])).unzip();
        let line = Line::fit(&x_used, &y_used)?;
        let (low, high) =
            x_used.iter().fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), &x| (low.min(x), high.max(x)));
        let length = high - low;
        let height = point_uncertainty(arguments, line.slope, &rows, known, inputs, &ledger.errors)?;
        let mut add = |cause: Cause, reach: f64, found: &mut Deviation| {
            found.add(&ledger.error(cause, Distribution::Rectangular(reach)), 1.0);
        };
        let mut found = Deviation::default();
        let (square_x, square_y) = (
            self.square_of_part(x, x_all.data(), self.sheet.width_mm),
            self.square_of_part(y, y_all.data(), self.sheet.height_mm),
        );
        if function.name == "slope" {
            add(Cause::Lines(index), 2.0 * height / length, &mut found);
            let run = TRIANGLE * length;
            for reach in [square_y, line.slope * square_x] {
                for _ in 0..2 {
                    add(Cause::Ends(index), reach.abs() / run, &mut found);
                }
            }
        } else {
            // The lines fan out beyond the points: at x = 0 they lie this much further apart than at the points' ends.
            let fan = ((low + high) / length).abs().max(1.0);
            add(Cause::Lines(index), height * fan, &mut found);
            add(Cause::Square(index), square_y, &mut found);
        }
        Ok(Some(found))
    }
}

/// The standard uncertainty of a point across a line of the given slope, as a mean over the points.
fn point_uncertainty(
    arguments: &[Node],
    slope: f64,
    rows: &[usize],
    known: &Known,
    inputs: &[Input],
    errors: &Errors,
) -> Result<f64, EvaluationError> {
    let [y, x, ..] = arguments else { return Ok(0.0) };
    let (y, x) = (first_order_rows(y, known, inputs, errors)?, first_order_rows(x, known, inputs, errors)?);
    let variance = |&row: &usize| {
        let mut across = y.get(row).cloned().unwrap_or_default();
        across.add(&x.get(row).cloned().unwrap_or_default(), -slope);
        across.covariance(&across, errors)
    };
    Ok(libm::sqrt(rows.iter().map(variance).sum::<f64>() / rows.len().max(1) as f64))
}

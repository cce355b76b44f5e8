//! A task's formula with everything in it that may be off. In: the formula, the ledger, the paper. Out: a tree and its
//! inputs, ready for either method. A fit in it stands as a name of its own: it is smooth, and fitting again for every
//! draw would cost more than it tells.

use super::{Cause, ledger::Ledger, paper::Paper};
use crate::{
    experiment::definition::Answered,
    formula::{self, EvaluationError, Node, NodeKind, Value},
    uncertainty::{
        COVERAGE_FACTOR, DRAWS, Deviation, Distribution, Errors, Input, Interval, Method, Moved, first_order,
        monte_carlo,
    },
    variant::Known,
};

/// A formula with its inputs; names that no author can write stand for fits and for the reading-off.
pub(super) struct Model<'a> {
    node: Node,
    inputs: Vec<Input>,
    own: Vec<(String, Value)>,
    known: &'a Known,
}

/// The name of the reading-off and rounding of the result.
const READING_OFF: &str = "·";

impl<'a> Model<'a> {
    /// The model of task `index` with its result and one unit in the last figure asked for, in SI.
    pub(super) fn build(
        formula: &Node,
        (index, how): (usize, Answered),
        (result, place): (f64, f64),
        known: &'a Known,
        paper: &Paper<'_>,
        ledger: &mut Ledger,
    ) -> Result<Self, EvaluationError> {
        let plotted = how != Answered::Calculate;
        let mut calls: Vec<Node> = Vec::new();
        let node = formula.replaced(&mut |node| match &node.kind {
            NodeKind::Call(function, _) if function.fitted && !inputs_of(node, ledger, plotted).is_empty() => {
                calls.push(node.clone());
                Some(fit_name(calls.len() - 1))
            }
            _ => None,
        });
        // A formula that is nothing but a fit has been computed already.
        let whole = matches!(&node.kind, NodeKind::Name(name) if *name == fit_name(0));
        let mut inputs = inputs_of(&node, ledger, plotted);
        let mut own = Vec::new();
        for (number, call) in calls.iter().enumerate() {
            let columns = inputs_of(call, ledger, plotted);
            let value = if whole { Value::scalar(result) } else { formula::evaluate(call, known)? };
            let deviation = match how {
                Answered::FromDrawnLine => paper.drawn_line(index, call, known, &columns, ledger)?,
                _ => None,
            };
            let deviation = match deviation {
                Some(deviation) => deviation,
                None => fit_deviation(call, known, &columns, &ledger.errors)?,
            };
            own.push((fit_name(number), value));
            inputs.push(Input { name: fit_name(number), row: None, deviation });
        }
        let mut last = ledger.error(Cause::Rounding(index), Distribution::Rectangular(place / 2.0));
        if how == Answered::ReadFromGraph
            && let Some(square) = paper.square_of_answer(index)
        {
            last.add(&ledger.error(Cause::Square(index), Distribution::Rectangular(square)), 1.0);
        }
        own.push((READING_OFF.to_owned(), Value::scalar(0.0)));
        inputs.push(Input { name: READING_OFF.to_owned(), row: None, deviation: last });
        Ok(Self { node: node.plus(READING_OFF.to_owned()), inputs, own, known })
    }

    fn values(&self) -> Moved<'_> {
        let moved = self.own.iter().map(|(name, value)| (name.as_str(), value.clone())).collect();
        Moved { base: self.known, moved }
    }

    /// The result's deviation to first order, in SI.
    pub(super) fn deviation(&self, errors: &Errors) -> Result<Deviation, EvaluationError> {
        first_order(&self.node, &self.values(), &self.inputs, errors)
    }

    /// The method that the rule between the two chooses for a result, in SI.
    pub(super) fn method(&self, result: f64, deviation: &Deviation, errors: &Errors) -> Method {
        Method::of(&self.node, &self.inputs, result, deviation, errors)
    }

    /// The 95 % coverage interval around a result, in SI.
    pub(super) fn coverage(
        &self,
        method: Method,
        result: f64,
        deviation: &Deviation,
        errors: &Errors,
    ) -> Result<(f64, f64), EvaluationError> {
        if method == Method::MonteCarlo {
            let draws = monte_carlo(&self.node, &self.values(), &self.inputs, errors, DRAWS)?;
            if let Some(interval) = Interval::of(draws) {
                return Ok((interval.low, interval.high));
            }
        }
        // Bounded errors can't add up to more than their bounds, however likely 1.96 of something would be.
        let most = deviation.worst(errors, |_| true) + COVERAGE_FACTOR * deviation.boundless(errors);
        let half = (COVERAGE_FACTOR * deviation.standard(errors)).min(most);
        Ok((result - half, result + half))
    }
}

/// What a fit's value may be off by to first order, without searching again where that can be spared.
fn fit_deviation(call: &Node, known: &Known, inputs: &[Input], errors: &Errors) -> Result<Deviation, EvaluationError> {
    let NodeKind::Call(function, arguments) = &call.kind else { return Ok(Deviation::default()) };
    let plain = |input: &Input| matches!(&arguments[0].kind, NodeKind::Name(name) if *name == input.name);
    let (Some(by_reading), true) = (function.by_reading, inputs.iter().all(plain)) else {
        return first_order(call, known, inputs, errors);
    };
    let columns = arguments.iter().map(|argument| formula::evaluate(argument, known));
    let columns = columns.collect::<Result<Vec<_>, _>>()?;
    let slopes = by_reading(&columns.iter().map(Value::data).collect::<Vec<_>>())?;
    let mut deviation = Deviation::default();
    for input in inputs {
        deviation.add(&input.deviation, input.row.and_then(|row| slopes.get(row)).copied().unwrap_or(0.0));
    }
    Ok(deviation)
}

fn fit_name(number: usize) -> String {
    format!("·{number}")
}

/// What may be off in a formula, each name once.
pub(super) fn inputs_of(node: &Node, ledger: &Ledger, plotted: bool) -> Vec<Input> {
    let mut names: Vec<&str> = Vec::new();
    node.names(&mut |name, _| {
        if !names.contains(&name) {
            names.push(name);
        }
    });
    names.into_iter().flat_map(|name| ledger.inputs(name, plotted)).cloned().collect()
}

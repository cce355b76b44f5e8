//! Why a real run does not answer a task. In: a formula and what was read. Out: the reason, or nothing. It must not excuse a fault
//! of the program: drawn readings always answer.

use serde::{Deserialize, Serialize};

use super::Number;
use crate::{
    experiment::{Experiment, plan::TaskBody},
    formula::{self, Approach, Node, NodeKind, Value, Values, functions},
    quantity::{Kind, rounding},
    variant::{Known, Variant},
};

/// Share of the way to its limit that a run must have gone for the limit to be seen (common practice, no source).
const NEAR_LIMIT: f64 = 0.8;

/// Standard uncertainties that an answer must hold (common practice, no source).
const LEAST_SIGNAL: f64 = 3.0;

/// Why a run does not answer a task.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub enum Gap {
    /// Nothing has been read yet.
    Blank,
    /// A quantity was not noted: its name.
    Unnoted(String),
    /// An earlier task has no answer: its id.
    Needs(String),
    /// There is no reading near a value of the schedule: its number as printed, in the schedule's unit.
    Unread(String),
    /// The readings tend to no limit.
    NoLimit,
    /// The run ended too far from its limit, after this share of the way in per cent.
    FarFromLimit(String),
    /// The readings leave the answer open: its standard uncertainty is not small against it.
    Uncertain,
    /// The formula has no value with these readings.
    NoValue,
}

/// What keeps a formula from having an answer with what was read.
pub(super) fn gap(experiment: &Experiment, formula: &Node, known: &Known) -> Option<Gap> {
    let mut found = None;
    formula.names(&mut |name, _| {
        if found.is_none() && known.value_of(name).is_none() {
            let task = experiment.task_index(name);
            found = Some(if task.is_some() { Gap::Needs(name.to_owned()) } else { Gap::Unnoted(name.to_owned()) });
        }
    });
    if found.is_some() {
        return found;
    }
    formula.visit(&mut |node| {
        if found.is_none() {
            found = of_call(experiment, node, known);
        }
    });
    found.or_else(|| match formula::evaluate(formula, known) {
        Ok(value) if value.data().iter().all(|number| number.is_finite()) && !value.data().is_empty() => None,
        _ => Some(Gap::NoValue),
    })
}

fn of_call(experiment: &Experiment, node: &Node, known: &Known) -> Option<Gap> {
    let NodeKind::Call(function, arguments) = &node.kind else { return None };
    let value = |place: usize| formula::evaluate(arguments.get(place)?, known).ok();
    match function.name {
        "at" => {
            let (x, wanted_si) = (value(1)?, value(2)?.number());
            let schedule = &experiment.schedule;
            // Only the schedule has steps that say what is near.
            let NodeKind::Name(name) = &arguments.get(1)?.kind else { return None };
            let wanted = schedule.unit.from_si(wanted_si);
            let row = functions::nearest_row(x.data(), wanted_si)?;
            let far = *name == schedule.id && !schedule.is_near(schedule.unit.from_si(x.data()[row]), wanted);
            far.then(|| Gap::Unread(rounding::to_places(wanted, schedule.values.places).text))
        }
        "limit" | "time_constant" => {
            let (y, x) = (value(0)?, value(1)?);
            let Ok(fit) = Approach::fit(x.data(), y.data(), None) else { return Some(Gap::NoLimit) };
            let (first, last) = (x.data().first()?, x.data().last()?);
            let share = 1.0 - libm::exp(-(last - first) / fit.constant);
            // Who cools towards the room comes near as well as who warms up.
            (share < NEAR_LIMIT).then(|| Gap::FarFromLimit(rounding::to_places(100.0 * share, 0).text))
        }
        _ => None,
    }
}

/// Whether what an answer may be off by is small against it; a temperature is held against what the readings cover.
pub(super) fn is_sure(experiment: &Experiment, variant: &Variant, number: &Number) -> bool {
    let size = match number.unit.kind() {
        Kind::Plain => number.value.abs(),
        Kind::Point => {
            let alike = experiment.columns.iter().filter(|column| column.unit.kind() == Kind::Point);
            let spans = alike.filter_map(|column| {
                let values = &variant.table.column(&column.id)?.values;
                let ends = values
                    .iter()
                    .fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), &value| (low.min(value), high.max(value)));
                Some((ends.1 - ends.0) * column.unit.scale() / number.unit.scale())
            });
            spans.fold(0.0, f64::max)
        }
    };
    number.value == 0.0 || LEAST_SIGNAL * number.budget.standard <= size
}

/// What keeps a graph from being drawn: a column that has no values.
pub(super) fn gap_of_graph(experiment: &Experiment, body: &TaskBody, known: &Known) -> Option<Gap> {
    let TaskBody::Graph(plan) = body else { return None };
    let columns = std::iter::once(plan.x.as_str()).chain(plan.heights());
    let lacking =
        columns.into_iter().find(|column| known.value_of(column).is_none_or(|value: &Value| value.data().len() < 2))?;
    Some(if experiment.task_index(lacking).is_some() { Gap::Needs(lacking.to_owned()) } else { Gap::NoValue })
}

//! What makes a task harder for one student than for another. In: keys and readings. Out: least and most with their bound.
//! It must not judge a task's difficulty, only whether it is the same for all.

use serde::Serialize;

use super::rows::{Reliance, reliance};
use crate::{
    class::Edition,
    experiment::{
        Experiment, Fairness,
        definition::Answered,
        plan::{GraphPlan, NumberPlan, TaskBody},
    },
    formula::{Value, Values},
    graph::{GraphPaper, Scale},
    key::Key,
    quantity::{Unit, rounding},
    variant::Variant,
};

/// Something that may differ between students.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "lowercase")]
pub enum Aspect {
    /// Significant figures of the printed answer.
    Figures,
    /// Size of the answer.
    Size,
    /// Share of the graph paper that the data use, on the axis where it is less.
    Graph,
    /// Rows of the table that the answer rests on.
    Rows,
    /// The answer over its standard deviation from noise and resolution of the readings.
    Signal,
}

/// One aspect of a task across the sheets of an edition.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct Measure {
    /// What is measured.
    pub aspect: Aspect,
    /// The least of all sheets.
    pub least: f64,
    /// The most.
    pub most: f64,
    /// The bound: for figures on the difference, for size and rows on the ratio, else on the least.
    pub bound: f64,
    /// Whether it is kept.
    pub holds: bool,
}

impl Measure {
    fn of(aspect: Aspect, values: impl Iterator<Item = f64>, bounds: &Fairness) -> Option<Self> {
        let ends = values.filter(|value| value.is_finite()).fold(None, |ends: Option<(f64, f64)>, value| {
            let (least, most) = ends.unwrap_or((value, value));
            Some((least.min(value), most.max(value)))
        });
        let (least, most) = ends?;
        let (bound, holds) = match aspect {
            Aspect::Figures => (bounds.figures(), most - least <= bounds.figures()),
            Aspect::Size => (bounds.size(), most <= bounds.size() * least),
            Aspect::Graph => (bounds.graph(), least >= bounds.graph()),
            Aspect::Rows => (bounds.rows(), most <= bounds.rows() * least),
            Aspect::Signal => (bounds.signal(), least >= bounds.signal()),
        };
        Some(Self { aspect, least, most, bound, holds })
    }
}

/// A sheet to be measured.
#[derive(Clone, Copy)]
pub struct Measured<'a> {
    /// The readings.
    pub variant: &'a Variant,
    /// The key to them.
    pub key: &'a Key,
    /// The graph paper.
    pub paper: GraphPaper,
}

/// The measures of each numeric task, with its place in the file; of one edition's tasks, or of all.
pub fn measures(
    experiment: &Experiment,
    edition: Option<Edition>,
    sheets: &[Measured<'_>],
) -> Vec<(usize, Vec<Measure>)> {
    let rests: Vec<Vec<Reliance>> =
        sheets.iter().map(|sheet| reliance(experiment, sheet.variant, &sheet.key.known)).collect();
    let mut graph: Option<&GraphPlan> = None;
    let mut found = Vec::new();
    let asked = |editions: &[Edition]| edition.is_none_or(|edition| editions.contains(&edition));
    for (index, task) in experiment.tasks.iter().enumerate().filter(|(_, task)| asked(&task.editions)) {
        let plan = match &task.body {
            TaskBody::Graph(plan) => {
                graph = Some(plan);
                continue;
            }
            TaskBody::Number(plan) => plan,
            TaskBody::Column(_) | TaskBody::Text => continue,
        };
        let definition = experiment.definition.tasks[index].number.as_ref();
        let own = definition.and_then(|number| number.fairness).unwrap_or_default();
        let bounds = own.or(experiment.definition.fairness.unwrap_or_default());
        let numbers = || sheets.iter().filter_map(|sheet| sheet.key.number(index));
        let drawn =
            definition.is_some_and(|number| matches!(number.how, Answered::ReadFromGraph | Answered::FromDrawnLine));
        let shares = sheets.iter().filter_map(|sheet| {
            let graph = graph.filter(|_| drawn)?;
            Some(share(experiment, graph, &sheet.key.known, sheet.paper))
        });
        let rows = rests.iter().map(|tasks| f64::from(tasks[index].rows)).filter(|&rows| rows > 0.0);
        let signal = sheets.iter().zip(&rests).filter_map(|(sheet, tasks)| {
            let value = plan.unit.scale() * sheet.key.number(index)?.value;
            (tasks[index].noise > 0.0).then(|| value.abs() / tasks[index].noise)
        });
        let measures = [
            Measure::of(Aspect::Figures, numbers().map(|number| figures(&number.text)), &bounds),
            Measure::of(Aspect::Size, numbers().map(|number| number.value.abs()), &bounds),
            Measure::of(Aspect::Graph, shares, &bounds),
            Measure::of(Aspect::Rows, rows, &bounds),
            Measure::of(Aspect::Signal, signal, &bounds),
        ];
        found.push((index, measures.into_iter().flatten().collect()));
    }
    found
}

/// The plan of a numeric task.
pub(super) fn plan_of(experiment: &Experiment, index: usize) -> Option<&NumberPlan> {
    match &experiment.tasks.get(index)?.body {
        TaskBody::Number(plan) => Some(plan),
        TaskBody::Column(_) | TaskBody::Graph(_) | TaskBody::Text => None,
    }
}

/// Significant figures of a plain decimal text: its digits without the zeros in front.
fn figures(text: &str) -> f64 {
    let mantissa = text.split(['e', 'E']).next().unwrap_or(text);
    let digits: String = mantissa.chars().filter(char::is_ascii_digit).collect();
    let significant = digits.trim_start_matches('0');
    // A zero has the figures behind its point.
    (if significant.is_empty() { rounding::places(text).max(1) } else { significant.len() }) as f64
}

/// The share of the paper that the data of a graph use, on the axis where it is less.
fn share(experiment: &Experiment, graph: &GraphPlan, known: &impl Values, paper: GraphPaper) -> f64 {
    let plain = Unit::one();
    let numbers = |name: &str| -> Vec<f64> {
        let unit = experiment.axis_unit(name).unwrap_or(&plain);
        let values = known.value_of(name).map(Value::data).unwrap_or_default();
        values.iter().map(|&si| unit.from_si(si)).collect()
    };
    let zero = graph.from_zero.then_some(0.0);
    let x: Vec<f64> = numbers(&graph.x).into_iter().chain(zero).collect();
    let y: Vec<f64> = graph.heights().chain(graph.levels.iter().map(String::as_str)).flat_map(numbers).collect();
    let used = |values: Vec<f64>, length: u32| {
        let scale = Scale::of_data(values.iter().copied(), length);
        let ends = values
            .iter()
            .fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), &value| (low.min(value), high.max(value)));
        (ends.1 - ends.0) / (scale.per_mm() * f64::from(scale.length_mm()))
    };
    used(x, paper.width_mm).min(used(y, paper.height_mm))
}

//! The curve that a class can expect. In: runs drawn like those of the students. Out: a small graph with the middle of the
//! runs and a band of nine in ten of them. It must draw no run itself.

use super::{
    Facts,
    graph::alt,
    sketch::{Stroke, sketch},
};
use crate::{
    experiment::plan::{GraphPlan, TaskBody},
    formula::{Symbol, Values},
    graph::Smooth,
    quantity::Unit,
    sheet::Graph,
    variant::Known,
};

/// Size of the paper at most, mm.
const WIDTH_MM: u32 = 130;
const HEIGHT_MM: u32 = 60;
/// Places at which the runs are compared.
const PLACES: u32 = 60;
/// Share of the runs below the lower and above the upper edge of the band.
const TAIL: f64 = 0.05;

/// A column over another, in every run.
struct Curves(Vec<Smooth>);

/// The graph of the first task that asks for one; nothing where there is no such task, or no run.
pub(super) fn expected(facts: &Facts<'_>, runs: &[Known]) -> Option<Graph> {
    let plan = facts.experiment.tasks.iter().find_map(|task| match &task.body {
        TaskBody::Graph(plan) => Some(plan),
        _ => None,
    })?;
    let (from, to) = reach(facts, plan, runs)?;
    let places: Vec<f64> =
        (0..=PLACES).map(|place| from + (to - from) * f64::from(place) / f64::from(PLACES)).collect();
    let columns: Vec<(&str, [Vec<f64>; 3])> = plan
        .heights()
        .map(|column| {
            let curves = Curves::of(facts, plan, column, runs);
            (column, [TAIL, 0.5, 1.0 - TAIL].map(|share| places.iter().map(|&x| curves.quantile(x, share)).collect()))
        })
        .collect();
    let path = |heights: &[f64]| places.iter().copied().zip(heights.iter().copied()).collect();
    let mut strokes = Vec::new();
    for (column, [low, middle, high]) in &columns {
        let name = facts.symbol_of(column).filter(|_| columns.len() > 1).map(Symbol::math);
        strokes.push(Stroke { path: path(middle), name, ..Stroke::default() });
        strokes.extend([low, high].map(|edge| Stroke { path: path(edge), dashed: true, ..Stroke::default() }));
    }
    let heights: Vec<&str> = plan.heights().collect();
    let mut graph = sketch(facts, (&plan.x, &heights), &strokes, (WIDTH_MM, HEIGHT_MM), plan.from_zero);
    graph.alt = alt(facts, &graph, "curve-alt");
    Some(graph)
}

/// A column of a run in the unit of its axis.
fn column(facts: &Facts<'_>, name: &str, run: &Known) -> Vec<f64> {
    let plain = Unit::one();
    let unit = facts.experiment.axis_unit(name).unwrap_or(&plain);
    run.value_of(name).map(|value| value.data().iter().map(|&si| unit.from_si(si)).collect()).unwrap_or_default()
}

/// The part of the horizontal axis that at least half of the runs reach at either end.
fn reach(facts: &Facts<'_>, plan: &GraphPlan, runs: &[Known]) -> Option<(f64, f64)> {
    let ends = runs.iter().map(|run| {
        let x = column(facts, &plan.x, run);
        (x.iter().copied().fold(f64::INFINITY, f64::min), x.iter().copied().fold(f64::NEG_INFINITY, f64::max))
    });
    let (mut low, mut high): (Vec<f64>, Vec<f64>) = ends.unzip();
    low.sort_by(f64::total_cmp);
    high.sort_by(f64::total_cmp);
    let middle = runs.len() / 2;
    let (from, to) = (*low.get(middle)?, *high.get(middle)?);
    (from.is_finite() && to.is_finite() && from < to).then_some((from, to))
}

impl Curves {
    fn of(facts: &Facts<'_>, plan: &GraphPlan, name: &str, runs: &[Known]) -> Self {
        let curve = |run| Smooth::through(&column(facts, &plan.x, run), &column(facts, name, run));
        Self(runs.iter().filter_map(curve).collect())
    }

    /// The height that this share of the runs stays below, between neighbours in proportion.
    fn quantile(&self, x: f64, share: f64) -> f64 {
        let mut heights: Vec<f64> = self.0.iter().map(|curve| curve.value(x)).collect();
        heights.sort_by(f64::total_cmp);
        let Some(last) = heights.len().checked_sub(1) else { return f64::NAN };
        let place = share * last as f64;
        let below = (place as usize).min(last.saturating_sub(1));
        let above = (below + 1).min(last);
        heights[below] + (heights[above] - heights[below]) * (place - below as f64)
    }
}

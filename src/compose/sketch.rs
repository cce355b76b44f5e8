//! A small graph that nobody measures in. In: curves and points in the units of the axes. Out: the graph as data. It must choose
//! nothing but the scale.

use super::{
    Facts,
    graph::{axis, keep_apart, millimetres, thinned},
};
use crate::{
    formula::Math,
    graph::Scale,
    sheet::{Frame, Graph, Label, Series, Side},
};

/// Width of a digit, mm.
const DIGIT_MM: f64 = 1.6;

/// A curve with points, in the units of the axes.
#[derive(Debug, Clone, Default)]
pub(super) struct Stroke {
    /// Points.
    pub(super) points: Vec<(f64, f64)>,
    /// A curve.
    pub(super) path: Vec<(f64, f64)>,
    /// Whether it is broken.
    pub(super) dashed: bool,
    /// Its name, beside its end.
    pub(super) name: Option<Math>,
}

/// A graph of these strokes at most `size` mm large, 60 mm or more each way: over the column `x`, with the columns `y` on the vertical axis; with
/// `zero` the horizontal axis holds zero.
pub(super) fn sketch(
    facts: &Facts<'_>,
    (x, y): (&str, &[&str]),
    strokes: &[Stroke],
    size: (u32, u32),
    zero: bool,
) -> Graph {
    let all = || strokes.iter().flat_map(|stroke| stroke.points.iter().chain(&stroke.path));
    let x_scale = Scale::of_data(all().map(|(x, _)| *x).chain(zero.then_some(0.0)), size.0);
    let y_scale = Scale::of_data(all().map(|(_, y)| *y), size.1);
    let place = |&(x, y): &(f64, f64)| (millimetres(x_scale.position(x)), millimetres(y_scale.position(y)));
    let mut series: Vec<Series> = strokes
        .iter()
        .map(|stroke| {
            let curve: Vec<_> = stroke.path.iter().map(place).collect();
            let points: Vec<_> = stroke.points.iter().map(place).collect();
            let end = curve.last().or(points.last()).copied();
            let label = stroke.name.clone().zip(end).map(|(text, at)| Label { at, side: Side::Right, text });
            Series { points, curve, dashed: stroke.dashed, label }
        })
        .collect();
    keep_apart(series.iter_mut().filter_map(|series| series.label.as_mut()).collect());
    Graph {
        width_mm: x_scale.length_mm(),
        height_mm: y_scale.length_mm(),
        x: thinned(axis(facts, [x].into_iter(), x_scale), DIGIT_MM),
        y: axis(facts, y.iter().copied(), y_scale),
        frame: Frame::Labelled,
        series,
        lines: Vec::new(),
        notes: Vec::new(),
        alt: String::new(),
    }
}

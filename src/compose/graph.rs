//! A graph. In: columns, levels, a kind of curve. Out: paper, axes and marks in millimetres, the same for sheet and key.
//! It must choose one scale for both, so that the key can be laid over the sheet.

use super::{
    Facts, Page, View,
    prose::over_unit,
    taken::{Taken, Window, taken},
};
use crate::{
    class::Edition,
    experiment::{
        definition::{Curve, GraphTask},
        plan::GraphPlan,
    },
    formula::{Approach, Line, Math, Symbol},
    graph::{GraphPaper, Scale, Smooth},
    key::Answer,
    quantity::{Unit, rounding},
    sheet::{Axis, Frame, Graph, GuideLine, Label, Run, Series, Side},
};

/// Points along a curve: over 160 mm its chords then lie within a tenth of a millimetre of a bend of 25 mm radius.
const CURVE_POINTS: u32 = 36;

/// Half the height of a label with a little air, mm.
pub(super) const HALF_LABEL_MM: f64 = 4.0;

/// Distance of the numbers at an axis, mm, and the least gap between two of them.
const SQUARE_MM: f64 = 10.0;
const GAP_MM: f64 = 1.0;

/// Width of the name of a level with its value, mm.
const LEVEL_LABEL_MM: f64 = 45.0;

/// Height of a label, mm.
const LABEL_MM: f64 = 5.0;

/// The paper of a graph task; in a key, with everything drawn.
pub(super) fn graph(facts: &Facts<'_>, plan: &GraphPlan, task: &GraphTask, page: Page) -> Graph {
    let Page { edition, large, view } = page;
    let paper = GraphPaper::of(large);
    let blank = facts.variant.table.rows() == 0;
    let x = if blank { planned(facts, &plan.x) } else { data(facts, &plan.x) };
    let heights: Vec<(&str, Vec<f64>)> = plan
        .heights()
        .map(|column| (column, if blank { planned(facts, column) } else { data(facts, column) }))
        .collect();
    let levels: Vec<(f64, Math)> = plan.levels.iter().filter_map(|level| marked(facts, level)).collect();
    let zero = plan.from_zero.then_some(0.0);
    let x_scale = Scale::of_data(x.iter().copied().chain(zero), paper.width_mm);
    let on_axis = heights.iter().flat_map(|(_, values)| values).copied();
    let y_scale = Scale::of_data(on_axis.chain(levels.iter().map(|(value, _)| *value)), paper.height_mm);
    let width = f64::from(x_scale.length_mm());
    let frame = match (view, edition) {
        // The scale of what is still to be read is the student's to choose.
        (_, Edition::Support) if blank => Frame::Drawn,
        (View::Key, _) | (View::Worksheet, Edition::Support) => Frame::Labelled,
        (View::Worksheet, Edition::Core) => Frame::Drawn,
        (View::Worksheet, Edition::Extension) => Frame::Blank,
    };
    let place = |x: f64, y: f64| (millimetres(x_scale.position(x)), millimetres(y_scale.position(y)));
    let mut drawn = Graph {
        width_mm: x_scale.length_mm(),
        height_mm: y_scale.length_mm(),
        x: thinned(axis(facts, [plan.x.as_str()].into_iter(), x_scale), digit_mm(page)),
        y: axis(facts, plan.heights(), y_scale),
        frame,
        series: Vec::new(),
        lines: Vec::new(),
        notes: Vec::new(),
        alt: String::new(),
    };
    if view == View::Key {
        let several = heights.len() > 1;
        drawn.series = heights
            .iter()
            .map(|(column, y)| {
                let points: Vec<_> = x.iter().zip(y).map(|(&x, &y)| place(x, y)).collect();
                let name = facts.symbol_of(column).filter(|_| several).map(Symbol::math);
                let curve = curve(task.curve, &x, y, zero).into_iter().map(|(x, y)| place(x, y)).collect();
                let label = points.last().copied().zip(name).map(|(at, text)| Label { at, side: Side::Right, text });
                Series { points, curve, dashed: false, label }
            })
            .collect();
        keep_apart(drawn.series.iter_mut().filter_map(|series| series.label.as_mut()).collect());
        for (level, text) in levels {
            let height = millimetres(y_scale.position(level));
            drawn.lines.push(GuideLine { from: (0.0, height), to: (width, height), dashed: true });
            drawn.notes.push(level_label(&drawn.series, (width, height), text));
        }
        let window = Window { plan, x: x_scale, y: y_scale, ruled: task.curve == Curve::Line };
        let Taken { lines, notes, paths } = taken(facts, edition, &window);
        drawn.lines.extend(lines);
        drawn.notes.extend(notes);
        drawn.series.extend(paths.into_iter().map(|curve| Series { curve, ..Series::default() }));
    }
    drawn.alt = alt(facts, &drawn, if view == View::Key { "graph-key-alt" } else { "graph-alt" });
    drawn
}

/// What the paper shows, in words; the axes only where they are printed.
pub(super) fn alt(facts: &Facts<'_>, graph: &Graph, what: &str) -> String {
    let word = |key| facts.language.word(key);
    let mut alt = word(what).to_owned();
    if graph.frame == Frame::Labelled {
        for (key, axis) in [("horizontal-axis", &graph.x), ("vertical-axis", &graph.y)] {
            let piece = |run: &Run| match run {
                Run::Text(text) => text.clone(),
                Run::Math(math) => math.alt.clone(),
            };
            let title: String = axis.title.iter().map(piece).collect();
            let end = |tick: Option<&(f64, String)>| tick.map_or_else(String::new, |(_, text)| text.clone());
            let (first, last) = (end(axis.ticks.first()), end(axis.ticks.last()));
            alt.push_str(&format!(
                " {} {title}, {} {first} {} {last}.",
                facts.language.heading(key),
                word("from"),
                word("to")
            ));
        }
    }
    let notes: Vec<&str> = graph.notes.iter().map(|note| note.text.alt.as_str()).collect();
    if !notes.is_empty() {
        alt.push_str(&format!(" {}.", notes.join("; ")));
    }
    alt
}

/// The name of a level above its line, at the end where it covers less of what is drawn.
fn level_label(series: &[Series], (width, height): (f64, f64), text: Math) -> Label {
    let drawn = || series.iter().flat_map(|series| series.points.iter().chain(&series.curve));
    let covers = |from: f64, to: f64| {
        let above = |at: f64| (height..height + 2.0 * HALF_LABEL_MM).contains(&at);
        drawn().filter(|(x, y)| (from..to).contains(x) && above(*y)).count()
    };
    let right = covers(width - LEVEL_LABEL_MM, width) <= covers(0.0, LEVEL_LABEL_MM);
    let (place, side) = if right { (width, Side::Left) } else { (0.0, Side::Right) };
    Label { at: (place, millimetres(height + HALF_LABEL_MM)), side, text }
}

/// Moves labels down until none covers the one above.
pub(super) fn keep_apart(mut labels: Vec<&mut Label>) {
    labels.sort_by(|one, other| other.at.1.total_cmp(&one.at.1));
    let mut ceiling = f64::INFINITY;
    let mut floor = LABEL_MM / 2.0;
    for label in &mut labels {
        label.at.1 = label.at.1.min(ceiling);
        ceiling = label.at.1 - LABEL_MM;
    }
    // Below the paper stand the numbers of the axis.
    for label in labels.into_iter().rev() {
        label.at.1 = label.at.1.max(floor);
        floor = label.at.1 + LABEL_MM;
    }
}

/// Places are exact to a hundredth of a millimetre; more digits only lengthen the page's source.
pub(super) fn millimetres(place: f64) -> f64 {
    rounding::to_places(place, 2).value
}

/// A column of the table: readings, or what the student computes from them, as printed in the key.
fn data(facts: &Facts<'_>, column: &str) -> Vec<f64> {
    if let Some(read) = facts.variant.table.column(column) {
        return read.values.clone();
    }
    let task = facts.experiment.task_index(column);
    match task.and_then(|index| facts.key.answers.get(index)) {
        Some(Answer::Column(cells)) => cells.iter().map(|cell| cell.value).collect(),
        _ => Vec::new(),
    }
}

/// Where a column will lie that is still to be read: the schedule's as planned, any other anywhere.
fn planned(facts: &Facts<'_>, column: &str) -> Vec<f64> {
    let schedule = &facts.experiment.schedule;
    if column == schedule.id {
        (0..schedule.values.count).map(|row| schedule.values.value(row)).collect()
    } else {
        vec![0.0, 1.0]
    }
}

/// A level of the graph: its value in the axis' unit and its label.
fn marked(facts: &Facts<'_>, task: &str) -> Option<(f64, Math)> {
    let number = facts.key.number(facts.experiment.task_index(task)?)?;
    let symbol = facts.symbol_of(task)?.math();
    let text = Math::quoted(&facts.write(&number.text, &number.unit));
    Some((
        number.value,
        Math::new(
            format!("{} = {}", symbol.typst, text.typst),
            format!("{} {} {}", symbol.alt, facts.language.speech.equals, text.alt),
        ),
    ))
}

pub(super) fn axis<'a>(facts: &Facts<'_>, columns: impl Iterator<Item = &'a str>, scale: Scale) -> Axis {
    let mut columns = columns.peekable();
    let unit =
        columns.peek().and_then(|column| facts.experiment.axis_unit(column)).map(Unit::print).unwrap_or_default();
    let symbols = columns.filter_map(|column| facts.symbol_of(column)).map(Symbol::math);
    let symbol = symbols.reduce(|all, next| Math::join(&all, ",", ",", &next)).unwrap_or_default();
    let ticks = scale.ticks(10).into_iter().map(|(at, text)| (at, facts.language.notation.number(&text))).collect();
    Axis { title: over_unit(symbol, &unit), ticks }
}

/// Width of a digit at the axes, mm: half an em of the sizes in `templates/parts/look.typ`.
fn digit_mm(page: Page) -> f64 {
    match (page.view, page.large) {
        (View::Key, _) => 1.6,
        (View::Worksheet, false) => 1.8,
        (View::Worksheet, true) => 2.9,
    }
}

/// A horizontal axis without every other number where these would run into each other.
pub(super) fn thinned(mut axis: Axis, digit_mm: f64) -> Axis {
    let width = |text: &str| {
        let digits = text.chars().map(|sign| if matches!(sign, '.' | ',') { 0.5 } else { 1.0 });
        digits.sum::<f64>() * digit_mm
    };
    if axis.ticks.iter().any(|(_, text)| width(text) > SQUARE_MM - GAP_MM) {
        axis.ticks.retain(|(at, _)| at % (2.0 * SQUARE_MM) == 0.0);
    }
    axis
}

/// Points of the fitted curve; none where the readings allow no fit. A line reaches as far as `zero`.
fn curve(kind: Curve, x: &[f64], y: &[f64], zero: Option<f64>) -> Vec<(f64, f64)> {
    let (Some(&first), Some(&last)) = (x.first(), x.last()) else { return Vec::new() };
    let at = |index: u32| first + (last - first) * f64::from(index) / f64::from(CURVE_POINTS);
    match kind {
        Curve::Approach => Approach::fit(x, y, None)
            .map(|fit| (0..=CURVE_POINTS).map(|index| (at(index), fit.value(at(index) - first))).collect())
            .unwrap_or_default(),
        Curve::Smooth => Smooth::through(x, y)
            .map(|smooth| (0..=CURVE_POINTS).map(|index| (at(index), smooth.value(at(index)))).collect())
            .unwrap_or_default(),
        Curve::Line => Line::fit(x, y)
            .map(|line| {
                let (start, end) = zero.map_or((first, last), |zero| (first.min(zero), last.max(zero)));
                [start, end].map(|x| (x, line.intercept + line.slope * x)).to_vec()
            })
            .unwrap_or_default(),
    }
}

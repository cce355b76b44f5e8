//! A real run beside its bench, in a key. In: a measured variant. Out: a small graph with a few lines. It must find no cause itself.

use super::{
    Facts,
    graph::alt,
    sketch::{Stroke, sketch},
};
use crate::{
    formula::Symbol,
    measured::{self, Comparison},
    quantity::{Unit, rounding},
    sheet::{Block, Run},
};

/// Size of the paper at most, mm.
const SIZE_MM: (u32, u32) = (110, 60);
/// Causes that are named.
const MOST_CAUSES: usize = 3;
/// Significant figures of a mean deviation.
const FIGURES: usize = 2;

/// The block at the end of a key to a real run; nothing where the bench gives nothing to compare with.
pub(super) fn comparison(facts: &Facts<'_>) -> Option<Block> {
    if !facts.variant.measured || facts.variant.table.rows() == 0 {
        return None;
    }
    let experiment = facts.experiment;
    let found = measured::compare(experiment, facts.variant)?;
    let first = experiment.columns.first()?;
    // Columns of another unit would need axes of their own.
    let alike: Vec<&str> =
        experiment.columns.iter().filter(|column| column.unit == first.unit).map(|column| column.id.as_str()).collect();
    let read = &facts.variant.table.column(&experiment.schedule.id)?.values;
    let strokes: Vec<Stroke> = found
        .columns
        .iter()
        .filter(|column| alike.contains(&column.id.as_str()))
        .filter_map(|column| {
            let own = &facts.variant.table.column(&column.id)?.values;
            Some(Stroke {
                points: read.iter().copied().zip(own.iter().copied()).collect(),
                path: found.places.iter().copied().zip(column.curve.iter().copied()).collect(),
                dashed: false,
                name: facts.symbol_of(&column.id).filter(|_| alike.len() > 1).map(Symbol::math),
            })
        })
        .collect();
    let mut graph = sketch(facts, (&experiment.schedule.id, &alike), &strokes, SIZE_MM, false);
    graph.alt = alt(facts, &graph, "compare-alt");
    Some(Block::Comparison {
        heading: facts.language.word("compare").to_owned(),
        graph: Box::new(graph),
        lines: lines(facts, &found).into_iter().map(|line| vec![Run::Text(line)]).collect(),
    })
}

fn lines(facts: &Facts<'_>, found: &Comparison) -> Vec<String> {
    let language = facts.language;
    let mean: Vec<String> = found
        .columns
        .iter()
        .filter_map(|column| {
            let unit = facts.experiment.column_unit(&column.id).map(Unit::of_differences)?;
            let text = facts.write(&rounding::to_figures(column.misfit, FIGURES).text, &unit);
            let name = facts.symbol_of(&column.id).map(Symbol::plain)?;
            Some(if found.columns.len() > 1 { format!("{text} ({name})") } else { text })
        })
        .collect();
    let mut lines = vec![
        language.word("compare-note").to_owned(),
        language.phrase("compare-mean", &[("{what}", &mean.join(", "))]),
    ];
    if found.agrees {
        lines.push(language.word("compare-fits").to_owned());
        return lines;
    }
    let causes: Vec<_> = found
        .causes
        .iter()
        .take(MOST_CAUSES)
        .filter_map(|&cause| facts.experiment.definition.compare.get(cause))
        .map(|cause| cause.says.printed_in(language))
        .collect();
    lines.push(if causes.is_empty() {
        language.word("compare-unknown").to_owned()
    } else {
        format!("{} {}.", language.heading("compare-causes"), causes.join("; "))
    });
    lines
}

//! The curve of the teacher's notes. In: runs moved by hand. Out: pass or fail.

use labquire::{
    compose::{Facts, teacher},
    experiment::{self, catalogue},
    formula::{Value, Values},
    key::Key,
    language::Language,
    sheet::{Graph, Passage},
    variant::{self, Known},
};

use crate::reference::assert_near;

/// The graph of notes drawn from these shifts of one run's temperature, in kelvins.
fn noted(shifts: &[f64]) -> Option<Graph> {
    let (experiment, _) = experiment::load(&catalogue::find("pumped-loop").expect("built in")).expect("sound");
    let variant = variant::draw(&experiment, "expected", "1").expect("drawn");
    let key = Key::build(&experiment, &variant, "1").expect("keyed");
    let language = Language::find("en").expect("English");
    let facts = Facts { experiment: &experiment, variant: &variant, key: &key, language };
    let plain = Known::of(&experiment, &variant);
    let runs: Vec<Known> = shifts
        .iter()
        .map(|shift| {
            let mut run = Known::of(&experiment, &variant);
            let moved = plain.value_of("T").expect("read").data().iter().map(|value| value + shift).collect();
            run.add("T", Value::column(moved));
            run
        })
        .collect();
    let notes = teacher(&facts, "9b", "expected", &[], &runs);
    notes.sections.into_iter().flat_map(|section| section.passages).find_map(|passage| match passage {
        Passage::Graph { graph } => Some(*graph),
        _ => None,
    })
}

/// A path's height at its end, in the axis' unit.
fn end(graph: &Graph, series: usize) -> f64 {
    let number = |index: usize| graph.y.ticks[index].1.parse::<f64>().expect("a number");
    let per_mm = (number(1) - number(0)) / (graph.y.ticks[1].0 - graph.y.ticks[0].0);
    number(0) + graph.series[series].curve.last().expect("a point").1 * per_mm
}

/// With runs 0, 1, ... 20 K above the first, the middle lies 10 K above it, the band's edges 1 K and 19 K.
#[test]
fn the_band_holds_nine_runs_in_ten() {
    let shifts: Vec<f64> = (0..=20).map(f64::from).collect();
    let graph = noted(&shifts).expect("a graph");
    let [middle, low, high] = [0, 1, 2].map(|series| end(&graph, series));
    assert_near(middle - low, 9.0, 0.02, "from the lower edge to the middle");
    assert_near(high - middle, 9.0, 0.02, "from the middle to the upper edge");
    let dashed: Vec<bool> = graph.series.iter().map(|series| series.dashed).collect();
    assert_eq!(dashed, [false, true, true]);
    assert!(graph.alt.contains("from 0 to"), "{}", graph.alt);
}

#[test]
fn without_runs_there_is_no_curve() {
    assert!(noted(&[]).is_none());
}

//! Graphs of sheets and keys. In: the built-in loop with its graph changed. Out: pass or fail.

use labquire::{
    class::Edition,
    compose::{Facts, Labels, View, sheet},
    experiment::{self, catalogue},
    key::{Answer, Key},
    language::Language,
    report::{Source, show},
    review,
    sheet::{AnswerSpace, Block, Graph},
    variant,
};

use crate::reference::assert_near;

fn changed(edits: &[(&str, &str)]) -> String {
    edits.iter().fold(catalogue::find("pumped-loop").expect("built in").text.clone(), |text, (old, new)| {
        assert_eq!(text.matches(old).count(), 1, "`{old}`");
        text.replace(old, new)
    })
}

/// A graph of the rise, which the student computes, for the editions that ask for it.
const RISE: [(&str, &str); 2] = [
    ("  - id: curve\n", "  - id: curve\n    editions: [support, core]\n"),
    ("      y: T\n      curve: approach\n      levels: [limit]\n", "      y: rise_column\n      curve: smooth\n"),
];

#[test]
fn a_computed_column_can_be_plotted() {
    let (experiment, _) = experiment::load(&Source::new("rise.yaml", changed(&RISE))).expect("sound");
    let variant = variant::draw(&experiment, "graphs", "1").expect("drawn");
    let key = Key::build(&experiment, &variant, "1").expect("keyed");
    let language = Language::find("en").expect("English");
    let facts = Facts { experiment: &experiment, variant: &variant, key: &key, language };
    let labels = Labels { student: None, class: "9b", code: "K7Q2-M9", edition: Edition::Core, large: false };
    let graph = graph(sheet(&facts, labels, View::Key).blocks);
    let Some(Answer::Column(cells)) = key.answers.first() else { panic!("the first task is the column") };
    assert_eq!(graph.points.len(), cells.len());
    // Millimetres of a tick and the number beside it give the scale that a student reads.
    let read = |ticks: &[(f64, String)], at: f64| {
        let number = |index: usize| ticks[index].1.parse::<f64>().expect("a number");
        number(0) + (at - ticks[0].0) * (number(1) - number(0)) / (ticks[1].0 - ticks[0].0)
    };
    let times = &variant.table.column("t").expect("a column").values;
    for ((point, cell), time) in graph.points.iter().zip(cells).zip(times) {
        assert_near(read(&graph.x.ticks, point.0), *time, 5e-3, "time");
        assert_near(read(&graph.y.ticks, point.1), cell.value, 5e-3, "rise");
    }
    // A smooth curve goes through its first and last point.
    assert_eq!((graph.curve.first(), graph.curve.last()), (graph.points.first(), graph.points.last()));
}

fn graph(blocks: Vec<Block>) -> Graph {
    let graph = blocks.into_iter().find_map(|block| match block {
        Block::Task(task) => match task.space {
            AnswerSpace::Graph { graph, .. } => Some(*graph),
            _ => None,
        },
        _ => None,
    });
    graph.expect("a graph task")
}

#[test]
fn an_edition_that_plots_what_it_never_computes_is_named() {
    let text = changed(&RISE[1..]);
    let (_, warnings) = review::check(&Source::new("rise.yaml", text)).expect("no error");
    let told = show(&warnings, false);
    assert!(told.contains("the edition `extension` does not ask for `rise_column`"), "{told}");
    let (_, warnings) = review::check(&Source::new("rise.yaml", changed(&RISE))).expect("no error");
    assert!(!show(&warnings, false).contains("does not ask for `rise_column`"));
}

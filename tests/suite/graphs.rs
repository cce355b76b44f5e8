//! Graphs of sheets and keys. In: the built-in loop with its graph changed. Out: pass or fail.

use labquire::{
    class::Edition,
    compose::{Facts, View, sheet},
    experiment::{self, catalogue},
    key::{Answer, Key},
    language::Language,
    report::{Source, show},
    review,
    sheet::{AnswerSpace, Block, Graph},
    variant,
};

use crate::{keys::labels, reference::assert_near};

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
    let labels = labels(Edition::Core);
    let graph = graph(sheet(&facts, labels, View::Key).blocks);
    let Some(Answer::Column(cells)) = key.answers.first() else { panic!("the first task is the column") };
    let [series] = graph.series.as_slice() else { panic!("one series") };
    assert_eq!(series.points.len(), cells.len());
    // Millimetres of a tick and the number beside it give the scale that a student reads.
    let read = |ticks: &[(f64, String)], at: f64| {
        let number = |index: usize| ticks[index].1.parse::<f64>().expect("a number");
        number(0) + (at - ticks[0].0) * (number(1) - number(0)) / (ticks[1].0 - ticks[0].0)
    };
    let times = &variant.table.column("t").expect("a column").values;
    for ((point, cell), time) in series.points.iter().zip(cells).zip(times) {
        assert_near(read(&graph.x.ticks, point.0), *time, 5e-3, "time");
        assert_near(read(&graph.y.ticks, point.1), cell.value, 5e-3, "rise");
    }
    // A smooth curve goes through its first and last point.
    assert_eq!((series.curve.first(), series.curve.last()), (series.points.first(), series.points.last()));
}

/// The line of a graph from zero begins on the vertical axis, at the height of its intercept.
#[test]
fn a_line_reaches_the_axis_that_begins_at_zero() {
    let source = catalogue::find("efficiency-line").expect("built in");
    assert!(source.text.contains("from_zero: true"));
    let (experiment, _) = experiment::load(&source).expect("sound");
    let language = Language::find("en").expect("English");
    let intercept = experiment.task_index("intercept").expect("asked for");
    for student in ["1", "2", "3", "4", "5"] {
        let variant = variant::draw(&experiment, "zero", student).expect("drawn");
        let key = Key::build(&experiment, &variant, student).expect("keyed");
        let facts = Facts { experiment: &experiment, variant: &variant, key: &key, language };
        let labels = labels(Edition::Core);
        let graph = graph(sheet(&facts, labels, View::Key).blocks);
        assert_eq!(graph.x.ticks[0].1.parse::<f64>(), Ok(0.0), "student {student}");
        let start = graph.series[0].curve[0];
        assert_near(start.0, 0.0, 1e-9, "begins on the axis");
        let (low, next) = (&graph.y.ticks[0], &graph.y.ticks[1]);
        let read = |text: &str| text.parse::<f64>().expect("a number");
        let step = (read(&next.1) - read(&low.1)) / (next.0 - low.0);
        let Some(Answer::Number(answer)) = key.answers.get(intercept) else { panic!("a number") };
        // Half a last figure of the answer, in per cent.
        assert_near(read(&low.1) + step * start.1, answer.value, 0.051, "ends at the intercept");
    }
}

/// Two columns of one unit share the vertical axis; each keeps its own marks, and a name.
#[test]
fn columns_of_one_unit_share_a_graph() {
    let second = "    T2:
      symbol: T_2
      name: {en: temperature of the plate, de: Temperatur der Platte}
      of: plate_temperature
      with: thermometer
      unit: °C
  once:
";
    let both = changed(&[("  once:\n", second), ("      y: T\n", "      y: T\n      also: [T2]\n")]);
    let (experiment, _) = experiment::load(&Source::new("both.yaml", both)).expect("sound");
    let variant = variant::draw(&experiment, "graphs", "1").expect("drawn");
    let key = Key::build(&experiment, &variant, "1").expect("keyed");
    let language = Language::find("en").expect("English");
    let facts = Facts { experiment: &experiment, variant: &variant, key: &key, language };
    let labels = labels(Edition::Core);
    let graph = graph(sheet(&facts, labels, View::Key).blocks);
    let names: Vec<_> =
        graph.series.iter().map(|series| series.label.as_ref().expect("a name").text.alt.as_str()).collect();
    assert_eq!(names, ["T", "T 2"]);
    let [water, plate] = [0, 1].map(|series: usize| graph.series[series].label.as_ref().expect("a name").at.1);
    assert!(plate - water >= 5.0, "the names lie {} mm apart", plate - water);
    let height = f64::from(graph.height_mm);
    assert!(graph.series.iter().flat_map(|series| &series.points).all(|(_, y)| (0.0..=height).contains(y)));
    assert!(graph.series[0].points.iter().zip(&graph.series[1].points).skip(1).all(|(water, plate)| water.1 < plate.1));
    for (axis, message) in [("also: [G]", "no column of the table"), ("also: [T]", "shows `T` twice")] {
        let wrong = changed(&[("      y: T\n", &format!("      y: T\n      {axis}\n"))]);
        let problems = experiment::load(&Source::new("wrong.yaml", wrong)).err().expect("a fault");
        assert!(show(&problems, false).contains(message), "{}", show(&problems, false));
    }
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

/// The graph of a key of the catalogue, with the answer to one of its tasks.
fn keyed(id: &str, edition: Edition, task: &str, student: &str) -> (Graph, labquire::key::Number) {
    let (experiment, _) = experiment::load(&catalogue::find(id).expect("built in")).expect("sound");
    let variant = variant::draw(&experiment, "taken", student).expect("drawn");
    let key = Key::build(&experiment, &variant, student).expect("keyed");
    let language = Language::find("en").expect("English");
    let facts = Facts { experiment: &experiment, variant: &variant, key: &key, language };
    let graph = graph(sheet(&facts, labels(edition), View::Key).blocks);
    let answer = key.number(experiment.task_index(task).expect("a task")).expect("a number").clone();
    (graph, answer)
}

/// The number of a note such as `Δ T equals 40.12 K`.
fn noted(graph: &Graph, symbol: &str) -> f64 {
    let note = graph.notes.iter().find(|note| note.text.alt.starts_with(symbol)).expect("a note");
    let value = note.text.alt.split("equals ").nth(1).expect("a value").replace('\u{2212}', "-");
    value.split('\u{202F}').next().and_then(|number| number.parse().ok()).expect("a number")
}

/// Who divides the sides of the triangle as the key prints them gets an accepted slope.
#[test]
fn the_triangle_of_a_key_gives_the_slope() {
    for student in ["1", "2", "3", "4"] {
        let (graph, answer) = keyed("stagnation", Edition::Extension, "gradient", student);
        let slope = noted(&graph, "Δ T") / noted(&graph, "Δ G");
        let (least, most) = (answer.accept.0.value, answer.accept.1.value);
        assert!((least..=most).contains(&slope), "student {student}: {slope} not in {least} to {most}");
        let corners: Vec<_> = graph.lines.iter().filter(|line| !line.dashed).collect();
        let [run, rise] = corners.as_slice() else { panic!("two sides of a triangle") };
        assert!(run.to == rise.to && run.from.1 == run.to.1 && rise.from.0 == rise.to.0);
        let curve = &graph.series[0].curve;
        let on_line = |(x, y): (f64, f64)| {
            let ((x0, y0), (x1, y1)) = (curve[0], curve[1]);
            assert_near(y0 + (y1 - y0) * (x - x0) / (x1 - x0), y, 0.05, "on the line, mm");
        };
        on_line(run.from);
        on_line(rise.from);
        assert!(rise.to.0 - run.from.0 > (curve[1].0 - curve[0].0).abs() / 2.0, "more than half the line");
    }
}

/// The lines of a reading meet on the curve, and lead to the number that the key prints.
#[test]
fn the_lines_of_a_reading_lead_to_its_number() {
    let (graph, answer) = keyed("pumped-loop", Edition::Extension, "tau", "1");
    let scale = |ticks: &[(f64, String)], at: f64| {
        let number = |index: usize| ticks[index].1.parse::<f64>().expect("a number");
        number(0) + (at - ticks[0].0) * (number(1) - number(0)) / (ticks[1].0 - ticks[0].0)
    };
    let reading: Vec<_> = graph.lines.iter().filter(|line| line.to.1 == 0.0 || line.from.0 != 0.0).collect();
    let [down, across] = reading.as_slice() else { panic!("one reading: {reading:?}") };
    assert_eq!((down.from, across.to), (across.from, (0.0, down.from.1)));
    let read = scale(&graph.x.ticks, down.to.0);
    assert!((answer.accept.0.value..=answer.accept.1.value).contains(&read), "{read} in {:?}", answer.accept);
    let nearest = graph.series[0].curve.iter().map(|(x, y)| (x - down.from.0).hypot(y - down.from.1));
    assert!(nearest.fold(f64::INFINITY, f64::min) < 2.5, "the point lies on the curve");
    assert_near(noted(&graph, "τ"), answer.value, 0.06, "the number at its foot");
}

//! Accepted ranges: against an independent Monte Carlo, and what must hold for every student.

use std::sync::Arc;

use labquire::{
    class::Edition,
    compose::{Facts, View, sheet},
    experiment::{self, Experiment, PlaceMap, catalogue, definition::Answered, plan::TaskBody},
    formula,
    graph::GraphPaper,
    key::{Cause, Key, Number, Rule, SlipKind, line_points, slip_warnings},
    language::Language,
    quantity::Unit,
    report::{Problems, Source},
    uncertainty::Method,
    variant::{self, Variant},
};

use crate::{
    keys::{labels, sheet_by_hand},
    reference::{assert_near, number, rows},
    set::labquire,
};

fn text() -> String {
    catalogue::find("pumped-loop").expect("in the catalogue").text.clone()
}

fn try_load(text: String) -> Result<Experiment, Problems> {
    let source = Arc::new(Source { name: "changed.yaml".to_owned(), text });
    experiment::load(&source).map(|(experiment, _)| experiment)
}

fn load(text: String) -> Experiment {
    try_load(text).unwrap_or_else(|problems| panic!("{}", ::labquire::report::show(&problems, false)))
}

/// The pumped loop with a text replaced, which must be there.
fn changed(from: &str, to: &str) -> String {
    let text = text();
    assert!(text.contains(from), "`{from}` is gone");
    text.replacen(from, to, 1)
}

fn numbers<'a>(experiment: &'a Experiment, key: &'a Key) -> impl Iterator<Item = (&'a str, &'a Number)> {
    let tasks = experiment.tasks.iter().enumerate();
    tasks.filter_map(|(index, task)| Some((task.id.as_str(), key.number(index)?)))
}

fn answer<'a>(experiment: &Experiment, key: &'a Key, task: &str) -> &'a Number {
    key.number(experiment.task_index(task).expect(task)).expect(task)
}

fn width(number: &Number) -> f64 {
    number.accept.1.value - number.accept.0.value
}

fn students(experiment: &Experiment, count: u32) -> Vec<Variant> {
    let draw = |student: u32| variant::draw(experiment, "ranges", &student.to_string());
    (0..count).map(|student| draw(student).expect("drawn")).collect()
}

/// Source: `tests/reference/ranges.py` (numpy, 200 000 draws, the fit repeated for each).
#[test]
fn graph_answers_agree_with_an_independent_monte_carlo() {
    let experiment = load(text());
    let variant = sheet_by_hand(&experiment);
    let chosen = Key::build(&experiment, &variant, "1").expect("keyed");
    let drawn = Key::build_by(Rule::Always(Method::MonteCarlo), &experiment, &variant, "1").expect("keyed");
    for row in rows("ranges.csv") {
        let [value, standard, low, high] = [1, 2, 3, 4].map(|at| number(&row[at]));
        let (chosen, drawn) = (answer(&experiment, &chosen, &row[0]), answer(&experiment, &drawn, &row[0]));
        assert_near(chosen.value, value, 1e-6, &row[0]);
        assert_near(chosen.budget.standard / standard, 1.0, 0.01, &row[0]);
        // Ends of a 95 % interval from 10 000 draws scatter by about 3 % of the standard uncertainty.
        let coverage = drawn.budget.coverage;
        assert!((coverage.0 - low).abs() < 0.1 * standard, "{}: {} for {low}", row[0], coverage.0);
        assert!((coverage.1 - high).abs() < 0.1 * standard, "{}: {} for {high}", row[0], coverage.1);
    }
}

/// First order is never the narrower one where the rule chooses it, nor wider by more than the last figure or a quarter
/// (JCGM 101:2008, clause 8: rounding errors are even, not normal, so 1.96 standard uncertainties cover more).
#[test]
fn both_methods_agree_where_first_order_is_chosen() {
    let experiment = load(text());
    for variant in students(&experiment, 5) {
        let [first, drawn] = [Method::FirstOrder, Method::MonteCarlo]
            .map(|method| Key::build_by(Rule::Always(method), &experiment, &variant, "1").expect("keyed"));
        let chosen = Key::build(&experiment, &variant, "1").expect("keyed");
        for (((id, first), (_, drawn)), (_, chosen)) in
            numbers(&experiment, &first).zip(numbers(&experiment, &drawn)).zip(numbers(&experiment, &chosen))
        {
            assert_eq!(chosen.budget.method == Method::MonteCarlo, id == "tau", "{id}");
            let place = rounding_place(first);
            let (one, other) = (width(first), width(drawn));
            assert!(other <= one + 0.2 * place, "{id}: {one} and {other}");
            assert!(one <= 1.25 * other + 0.2 * place, "{id}: {one} and {other}");
        }
    }
}

fn rounding_place(number: &Number) -> f64 {
    ::labquire::quantity::rounding::last_place(&number.text)
}

/// Noise of the thermometer widens what is read from the graph and what follows from it, and nothing else.
#[test]
fn ranges_grow_with_noise() {
    let quiet = load(text());
    let mut loud = [1, 3, 6].map(|tenths| load(changed("noise: 0.05 K", &format!("noise: 0.{tenths} K"))));
    for variant in students(&quiet, 4) {
        let mut before = Key::build(&quiet, &variant, "1").expect("keyed");
        for experiment in &mut loud {
            let key = Key::build(experiment, &variant, "1").expect("keyed");
            for ((id, old), (_, new)) in numbers(&quiet, &before).zip(numbers(experiment, &key)) {
                if matches!(id, "limit" | "tau" | "loss" | "tau_balance") {
                    assert!(new.budget.standard > 1.01 * old.budget.standard, "{id}");
                    let cut = new.budget.bounds.0 == ::labquire::key::Bound::Slip;
                    assert!(cut || width(new) >= width(old), "{id}: {} then {}", width(old), width(new));
                } else {
                    assert_eq!(new.accept, old.accept, "{id} is calculated from printed numbers");
                }
            }
            before = key;
        }
    }
}

/// Offsets of instruments are in the printed numbers already.
#[test]
fn class_limits_do_not_enter() {
    let plain = load(text());
    let coarse = load(changed("limit: 0.5 K", "limit: 5 K"));
    let variant = sheet_by_hand(&plain);
    let key = |experiment: &Experiment| Key::build(experiment, &variant, "1").expect("keyed");
    assert_eq!(key(&plain).answers, key(&coarse).answers);
}

/// A slip is outside the range, or the key says that it can't be told from the right answer.
#[test]
fn slips_lie_outside_or_are_reported() {
    let mut listed = 0;
    for source in catalogue::sources() {
        let (experiment, _) = experiment::load(&source).expect("a sound definition");
        for variant in students(&experiment, 60) {
            let key = Key::build(&experiment, &variant, "1").expect("keyed");
            for (index, task) in experiment.tasks.iter().enumerate() {
                let (TaskBody::Number(plan), Some(number)) = (&task.body, key.number(index)) else { continue };
                let (from, to) = (number.accept.0.value, number.accept.1.value);
                for (at, slip) in plan.slips.iter().enumerate() {
                    let wrong = plan.unit.from_si(formula::evaluate(slip, &key.known).expect("a value").number());
                    let wrong = plan.form.round(wrong).value;
                    let reported = number.slips.iter().any(|slip| slip.kind == SlipKind::Listed(at) && slip.accepted);
                    assert_eq!((from..=to).contains(&wrong), reported, "{}: {wrong} in {from} to {to}", task.id);
                    listed += 1;
                }
                for power in [-3, -2, -1, 1, 2, 3] {
                    let wrong = number.value * 10_f64.powi(power);
                    assert!(!(from..=to).contains(&wrong), "{}: {wrong} in {from} to {to}", task.id);
                }
            }
        }
    }
    assert!(listed > 60 * 10, "{listed} slips");
}

/// A slip three tenths of a kelvin beside the limit cuts its range half way, and is reported.
#[test]
fn a_near_slip_cuts_the_range() {
    let near = load(changed("formula: last(T)\n", "formula: limit + 0.3 K\n"));
    let variant = sheet_by_hand(&near);
    let key = Key::build(&near, &variant, "1").expect("keyed");
    let limit = answer(&near, &key, "limit");
    let slip = &limit.slips[0];
    assert!(slip.inside && !slip.accepted, "{slip:?}");
    assert_eq!(limit.budget.bounds.1, ::labquire::key::Bound::Slip);
    // 64.00 °C and 64.3 °C: half way is 64.15 °C.
    assert_eq!(limit.accept.1.text, "64.16");
    assert_ne!(limit.budget.bounds.0, ::labquire::key::Bound::Slip);
    let hopeless = load(changed("formula: last(T)\n", "formula: limit + 0.06 K\n"));
    let key = Key::build(&hopeless, &variant, "1").expect("keyed");
    let limit = answer(&hopeless, &key, "limit");
    assert!(limit.slips[0].accepted, "a tenth is never refused");
    assert_eq!(
        key.overlaps().map(|(task, _)| task).collect::<Vec<_>>(),
        [hopeless.task_index("limit").expect("limit")]
    );
}

fn keys(experiment: &Experiment) -> Vec<Key> {
    let variants = students(experiment, 60);
    variants.iter().map(|variant| Key::build(experiment, variant, "1").expect("keyed")).collect()
}

/// The catalogue keeps its slips apart; a slip that it does not is said with its place.
#[test]
fn near_slips_are_warned_of() {
    for source in catalogue::sources() {
        let (experiment, _) = experiment::load(&source).expect("a sound definition");
        let places = PlaceMap::read(&source).expect("places");
        let problems = slip_warnings(&experiment, &places, &keys(&experiment));
        assert!(problems.is_empty(), "{}", ::labquire::report::show(&problems, false));
    }
    let near = load(changed("formula: last(T)\n", "formula: limit + 0.06 K\n"));
    let places = PlaceMap::read(&near.source).expect("places");
    let problems = slip_warnings(&near, &places, &keys(&near));
    let shown = ::labquire::report::show(&problems, false);
    assert_eq!(problems.len(), 1, "{shown}");
    for part in
        ["this slip can hardly be told from the answer of `limit`", "formula: limit + 0.06 K", "60 of 60 students"]
    {
        assert!(shown.contains(part), "{shown}");
    }
}

const PUMP: &str = "      formula: U * I\n      unit: W\n      figures: 3\n";

/// The pump task replaced by a slope that is found in another way; its slips go with it.
fn slope_task(how: &str) -> Experiment {
    let text = changed(
        PUMP,
        &format!("      formula: slope(T, t, 0 min, 12 min)\n      unit: K/min\n      figures: 3\n      how: {how}\n"),
    );
    let text = text.replace("- formula: U / I * (1 A)^2\n", "- formula: (last(T) - first(T)) / (60 min)\n");
    let share = text.find("  - id: share").expect("share");
    let end = text.find("\nteacher:").expect("teacher");
    load(format!("{}{}", &text[..share], &text[end..]))
}

/// By hand, for four points in 12 min with u = sqrt(0.05² + 0.1²/12) K = 0.0577 K, slope 1.7875 K/min, 5 K and 5 min for
/// 10 mm: lines within 2 · 0.0577 K / 12 min; each end of the triangle of 6 min within 0.25 K, and 0.25 min · slope.
#[test]
fn a_drawn_line_has_its_own_allowance() {
    let experiment = slope_task("from-drawn-line");
    let variant = sheet_by_hand(&experiment);
    let key = Key::build(&experiment, &variant, "1").expect("keyed");
    let slope = answer(&experiment, &key, "pump");
    assert_near(slope.value, 1.7875, 1e-9, "slope: 143 K min over 80 min²");
    let by = |wanted: &dyn Fn(&Cause) -> bool| {
        slope.budget.contributions.iter().find(|part| wanted(&part.cause)).map_or(0.0, |part| part.standard)
    };
    let lines = 2.0 * 0.057_735_03 / 12.0 / 3.0_f64.sqrt();
    assert_near(by(&|cause| matches!(cause, Cause::Lines(_))), lines, 1e-6, "lines");
    let ends = (2.0 * (0.25_f64.powi(2) + (0.25_f64 * 1.7875).powi(2))).sqrt() / 6.0 / 3.0_f64.sqrt();
    assert_near(by(&|cause| matches!(cause, Cause::Ends(_))), ends, 1e-6, "ends");
    assert_eq!(slope.budget.how, Answered::FromDrawnLine);
    // By least squares, u / sqrt(Σ(x − mean)²) = 0.0577 K / sqrt(80 min²).
    let fitted = slope_task("from-fit");
    let key = Key::build(&fitted, &variant, "1").expect("keyed");
    let fit = answer(&fitted, &key, "pump");
    let readings = fit.budget.contributions.iter().find(|part| matches!(part.cause, Cause::Readings(_)));
    assert_near(readings.expect("readings").standard, 0.057_735_03 / 80.0_f64.sqrt(), 1e-6, "least squares");
    assert!(width(fit) < width(slope));
    let calculated = slope_task("calculate");
    let key = Key::build(&calculated, &variant, "1").expect("keyed");
    assert!(width(answer(&calculated, &key, "pump")) <= width(fit));
}

/// The two points that the working shows lie on the line: their quotient is the slope.
#[test]
fn the_points_of_a_line_give_its_slope() {
    let experiment = slope_task("from-fit");
    let variant = sheet_by_hand(&experiment);
    let key = Key::build(&experiment, &variant, "1").expect("keyed");
    let TaskBody::Number(plan) = &experiment.tasks[experiment.task_index("pump").expect("pump")].body else {
        panic!("a number");
    };
    let (celsius, minutes) = (Unit::parse("°C").expect("a unit"), Unit::parse("min").expect("a unit"));
    let [(x1, y1), (x2, y2)] =
        line_points(&plan.formula, &key.known, (&celsius, 1), (&minutes, 0)).expect("two points");
    assert_eq!((x1.text.as_str(), x2.text.as_str()), ("0", "12"));
    let slope = answer(&experiment, &key, "pump").value;
    assert!(((y2.value - y1.value) / (x2.value - x1.value) - slope).abs() < 0.01 / 12.0);
    assert_eq!(y1.text.split('.').next_back().map(str::len), Some(2), "one decimal more than the readings");
}

#[test]
fn a_line_or_fit_must_be_in_the_formula() {
    for how in ["from-drawn-line", "from-fit"] {
        let text = changed(PUMP, &format!("{PUMP}      how: {how}\n"));
        let problems = try_load(text).err().expect("refused");
        assert!(problems.iter().any(|problem| problem.message.contains("fits nothing")), "{problems:?}");
    }
    let text = changed("formula: U / I * (1 A)^2", "formula: U / I");
    let problems = try_load(text).err().expect("refused");
    assert!(problems.iter().any(|problem| problem.message.contains("the answer is")), "{problems:?}");
}

/// `show` tells of each number how it is answered, by which method, and the shares of what contributes.
#[test]
fn show_explains_every_range() {
    let (ending, out, err) = labquire(&["show", "pumped-loop", "--json"]);
    assert_eq!(ending.code(), 0, "{err}");
    let shown: serde_json::Value = serde_json::from_str(&out).expect("JSON");
    let mut explained = 0;
    for task in shown["tasks"].as_array().expect("tasks") {
        let range = &task["range"];
        assert_eq!(range.is_null(), task["kind"] != "number", "{task}");
        let Some(parts) = range["contributions"].as_array() else { continue };
        let shares: f64 = parts.iter().filter_map(|part| part["share"].as_f64()).sum();
        assert_near(shares, 1.0, 1e-9, "shares of the variance");
        let squares: f64 = parts.iter().filter_map(|part| part["standard"].as_f64()).map(|part| part * part).sum();
        let standard = range["standard_uncertainty"].as_f64().expect("a number");
        assert_near(squares.sqrt() / standard, 1.0, 1e-9, "the parts make the whole");
        let [low, sample, high] = [&range["accept"][0], &range["sample"], &range["accept"][1]]
            .map(|number| number.as_f64().expect("a number"));
        assert!(low < sample && sample < high, "{range}");
        explained += 1;
    }
    assert_eq!(explained, 11);
    let (_, out, _) = labquire(&["show", "pumped-loop", "--lang", "de"]);
    for part in [
        "aus dem Diagramm abgelesen; Monte Carlo",
        "Streuung und Auflösung von T",
        "Minuten nicht in Sekunden umgerechnet",
    ] {
        assert!(out.contains(part), "{part} in {out}");
    }
}

/// The key prints the words for a step before its first line, and slips with their numbers.
#[test]
fn keys_show_steps_and_slips() {
    let text = changed(
        "      formula: heat / (12 min)\n",
        "      formula: heat / (12 min)\n      step: {en: Heat over time, de: Wärme durch Zeit}\n",
    );
    let experiment = load(text);
    let variant = sheet_by_hand(&experiment);
    let key = Key::build(&experiment, &variant, "1").expect("keyed");
    let labels = labels(Edition::Core);
    for (code, step, slip) in [
        ("en", "Heat over time: ", "likely slips: 1140 W (minutes not turned into seconds)"),
        ("de", "Wärme durch Zeit: ", "naheliegende Fehler: 1140 W (Minuten nicht in Sekunden umgerechnet)"),
    ] {
        let language = Language::find(code).expect("a language");
        let facts = Facts { experiment: &experiment, variant: &variant, key: &key, language };
        let page =
            serde_json::to_string(&sheet(&facts, labels, View::Key).blocks).expect("JSON").replace('\u{202F}', " ");
        for part in [step, slip] {
            assert!(page.contains(part), "{part} in {page}");
        }
    }
}

/// Half a small square is 0.5 mm on normal paper and 2.5 mm in large print: what is read off it may lie further away.
#[test]
fn large_print_is_read_less_closely() {
    let experiment = load(text());
    let variant = sheet_by_hand(&experiment);
    let key = |large| {
        let paper = GraphPaper::of(large);
        Key::build_for(Edition::Extension, paper, &experiment, &variant, "1").expect("keyed")
    };
    let (normal, large) = (key(false), key(true));
    let wide = |key: &Key, task: &str| width(answer(&experiment, key, task));
    assert!(wide(&large, "tau") > 2.0 * wide(&normal, "tau"));
    assert!((wide(&large, "heat") - wide(&normal, "heat")).abs() < 1e-9, "nothing is read off for the heat");
}

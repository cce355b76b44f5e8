//! A fitted bench on one page. In: an experiment, its fit, the variant of its first run. Out: sections with graphs and tables. It must
//! compute no fit.

use std::collections::BTreeMap;

use super::{
    Facts,
    graph::alt,
    prose::{capital, over_unit},
    sketch::{Stroke, sketch},
};
use crate::{
    experiment::plan::FittablePlan,
    fit::{Because, BenchFit, FittedColumn, FittedRun, Lesson, Provenance, Reason},
    formula::{Math, Symbol},
    quantity::{Kind, Unit, rounding},
    sheet::{Passage, Run, Section, Teacher},
};

/// Size of the graphs at most, mm.
const CURVE_MM: (u32, u32) = (140, 60);
const RESIDUALS_MM: (u32, u32) = (140, 60);
/// Readings of a run that are drawn at most.
const MOST_POINTS: usize = 90;
/// Correlations below are of no use to a reader.
const WORTH_TELLING: f64 = 0.3;
/// Significant figures of an uncertainty.
const FIGURES: usize = 2;

/// The page, in the language of `facts`; `lesson` says what the bench means for a lesson.
pub fn bench_fit(facts: &Facts<'_>, fit: &BenchFit, lesson: Option<&Lesson>, from: &Provenance) -> Teacher {
    let language = facts.language;
    let section = |key: &str, passages| Section { heading: language.word(key).to_owned(), passages, beside: false };
    let mut sections = vec![verdict(facts, fit)];
    if let Some(first) = facts.experiment.columns.first() {
        sections.push(section("fit-curve", curves(facts, fit, &first.id)));
        sections.push(section("fit-residuals", vec![residuals(facts, fit, &first.id)]));
    }
    sections.push(section("fit-parameters", parameters(facts, fit)));
    sections.push(section("fit-lesson", vec![text(meaning(facts, lesson))]));
    sections.push(section("fit-from", vec![text(source(facts, from))]));
    Teacher {
        lang: language.code.clone(),
        head: language.word("fit").to_owned(),
        title: facts.experiment.definition.title.printed_in(language).into_owned(),
        class: String::new(),
        sections,
    }
}

fn text(text: String) -> Passage {
    Passage::Text { text: vec![Run::Text(text)] }
}

fn verdict(facts: &Facts<'_>, fit: &BenchFit) -> Section {
    let language = facts.language;
    let reason = |reason: &Reason| match reason {
        Reason::Scatter(times) => {
            let times = language.notation.number(&rounding::to_figures(*times, FIGURES).text);
            language.phrase("fit-scatter", &[("{what}", &times)])
        }
        Reason::Pattern(_) => language.word("fit-pattern").to_owned(),
        Reason::AtEnd(input) => language.phrase("fit-at-end", &[("{what}", &name(facts, input))]),
        Reason::Together(one, other, _) => {
            language.phrase("fit-together", &[("{what}", &name(facts, one)), ("{other}", &name(facts, other))])
        }
    };
    let poor: Vec<String> = fit.verdict.poor.iter().map(reason).collect();
    let mut words = match poor.is_empty() {
        true => language.word("fit-good").to_owned(),
        false => format!("{} {}.", language.word("fit-poor"), poor.join("; ")),
    };
    for note in fit.verdict.notes.iter().map(reason) {
        words.push_str(&format!(" {}.", capital(&note)));
    }
    Section { heading: language.word("fit").to_owned(), passages: vec![text(words)], beside: false }
}

fn plan<'a>(facts: &Facts<'a>, input: &str) -> Option<&'a FittablePlan> {
    facts.experiment.fittable.iter().find(|plan| plan.input.name == input)
}

/// The name of an input that is fitted.
fn name(facts: &Facts<'_>, input: &str) -> String {
    let found = facts.experiment.definition.fittable.get(input);
    found.map_or_else(|| input.to_owned(), |one| one.name.printed_in(facts.language).into_owned())
}

/// Each how many-th reading is drawn.
fn every(column: &FittedColumn) -> usize {
    column.read.len().div_ceil(MOST_POINTS).max(1)
}

/// The column of each run, with where its rows were read in the schedule's unit.
fn columns<'a>(facts: &Facts<'_>, fit: &'a BenchFit, id: &str) -> Vec<(&'a FittedRun, &'a FittedColumn, Vec<f64>)> {
    let schedule = &facts.experiment.schedule;
    let at = |run: &FittedRun, row: usize| schedule.unit.from_si(schedule.bench_unit.to_si(run.at[row]));
    let runs = fit.runs.iter().filter_map(|run| {
        let column = run.columns.iter().find(|column| column.id == id)?;
        Some((run, column, column.rows.iter().map(|&row| at(run, row)).collect()))
    });
    runs.collect()
}

fn curves(facts: &Facts<'_>, fit: &BenchFit, id: &str) -> Vec<Passage> {
    let found = columns(facts, fit, id);
    let several = found.len() > 1;
    let strokes: Vec<Stroke> = found
        .iter()
        .map(|(run, column, at)| {
            let every = every(column);
            let pick = |values: &[f64], every: usize| -> Vec<(f64, f64)> {
                at.iter().copied().zip(values.iter().copied()).step_by(every).collect()
            };
            Stroke {
                points: pick(&column.read, every),
                path: pick(&column.model, every.div_ceil(4)),
                dashed: false,
                name: (several && !run.who.is_empty()).then(|| Math::quoted(&run.who)),
            }
        })
        .collect();
    let mut graph = sketch(facts, (&facts.experiment.schedule.id, &[id]), &strokes, CURVE_MM, false);
    graph.alt = alt(facts, &graph, "compare-alt");
    let mut passages = vec![Passage::Graph { graph: Box::new(graph) }];
    let most = found.iter().map(|(_, column, _)| every(column)).max().unwrap_or(1);
    if most > 1 {
        passages.push(text(facts.language.phrase("fit-every", &[("{what}", &most.to_string())])));
    }
    passages
}

fn residuals(facts: &Facts<'_>, fit: &BenchFit, id: &str) -> Passage {
    let strokes: Vec<Stroke> = columns(facts, fit, id)
        .iter()
        .map(|(_, column, at)| {
            let rests = column.read.iter().zip(&column.model).map(|(read, model)| read - model);
            let points: Vec<(f64, f64)> = at.iter().copied().zip(rests).step_by(every(column)).collect();
            let ends = [at.first(), at.last()].into_iter().flatten().map(|&x| (x, 0.0)).collect();
            Stroke { points, path: ends, ..Stroke::default() }
        })
        .collect();
    let mut graph = sketch(facts, (&facts.experiment.schedule.id, &[id]), &strokes, RESIDUALS_MM, false);
    let unit = facts.experiment.column_unit(id).map(Unit::of_differences).unwrap_or_else(Unit::one);
    let symbol = facts.symbol_of(id).map(Symbol::math).unwrap_or_default();
    graph.y.title = over_unit(Math::new(format!("Delta {}", symbol.typst), format!("Δ {}", symbol.alt)), &unit.print());
    graph.alt = alt(facts, &graph, "compare-alt");
    Passage::Graph { graph: Box::new(graph) }
}

fn parameters(facts: &Facts<'_>, fit: &BenchFit) -> Vec<Passage> {
    let language = facts.language;
    let head = |key: &str| vec![Run::from(language.word(key))];
    let rows = fit.fitted.iter().filter_map(|one| {
        let plan = plan(facts, &one.input)?;
        let printed = |value: f64| plan.unit.from_si(plan.input.unit.to_si(value));
        let spread = one.standard * plan.input.unit.scale() / plan.unit.scale();
        let last = rounding::last_figure(spread, FIGURES);
        let places = (-libm::log10(last)).round().clamp(0.0, 9.0) as usize;
        let write = |value: f64| language.notation.number(&rounding::to_places(value, places).text);
        Some(vec![
            format!("{}, {}", name(facts, &one.input), plan.symbol.plain()),
            write(printed(one.value)),
            write(spread),
            format!("{} – {}", write(printed(one.interval.0)), write(printed(one.interval.1))),
            plan.unit.print(),
        ])
    });
    let heads = ["quantity", "fit-value", "fit-standard", "fit-interval", "unit"].map(head).to_vec();
    let mut passages = vec![Passage::Table { heads, rows: rows.collect() }];
    let pairs = fit.correlation.iter().enumerate().flat_map(|(one, row)| {
        row.iter().enumerate().skip(one + 1).filter(|(_, found)| found.abs() >= WORTH_TELLING).filter_map(
            move |(other, found)| {
                let symbol = |place: usize| Some(plan(facts, &fit.fitted[place].input)?.symbol.plain());
                let found = language.notation.number(&rounding::to_places(*found, 2).text);
                Some(format!("{}, {}: {found}", symbol(one)?, symbol(other)?))
            },
        )
    });
    let pairs: Vec<String> = pairs.collect();
    if !pairs.is_empty() {
        passages.push(text(format!("{} {}", capital(&language.heading("fit-correlation")), pairs.join("; "))));
    }
    for held in &fit.held {
        let because = match &held.because {
            Because::Untold => language.word("fit-untold").to_owned(),
            Because::Like(other) => language.phrase("fit-like", &[("{what}", &name(facts, other))]),
        };
        let Some(plan) = plan(facts, &held.input) else { continue };
        let value = plan.unit.from_si(plan.input.unit.to_si(held.value));
        let value = facts.write(&rounding::to_figures(value, FIGURES + 1).text, &plan.unit);
        let words = format!("{}{}", name(facts, &held.input), language.word("colon"));
        passages.push(text(format!("{words} {} {value} ({because}).", lower(language.word("fit-held")))));
    }
    passages
}

fn lower(text: &str) -> String {
    let mut signs = text.chars();
    signs.next().map(|first| first.to_lowercase().chain(signs).collect()).unwrap_or_default()
}

/// Limit and times, as a sentence of parts.
fn meaning(facts: &Facts<'_>, lesson: Option<&Lesson>) -> String {
    let language = facts.language;
    let Some(lesson) = lesson else { return language.word("fit-no-limit").to_owned() };
    let schedule = &facts.experiment.schedule;
    let unit = facts.experiment.column_unit(&lesson.column);
    let places = if unit.is_some_and(|unit| unit.kind() == Kind::Point) { 1 } else { 2 };
    let limit = rounding::to_places(lesson.limit, places).text;
    let one = Unit::one();
    let mut parts =
        vec![format!("{} {}", capital(&language.heading("fit-limit")), facts.write(&limit, unit.unwrap_or(&one)))];
    for (key, at) in [("fit-63", lesson.to_63), ("fit-95", lesson.to_95)] {
        if let Some(at) = at {
            let text = rounding::to_figures(at, FIGURES).text;
            parts.push(format!("{} {}", language.word(key), facts.write(&text, &schedule.unit)));
        }
    }
    format!("{}.", parts.join("; "))
}

/// File, program and runs.
fn source(facts: &Facts<'_>, from: &Provenance) -> String {
    let language = facts.language;
    let runs: Vec<String> = from
        .runs
        .iter()
        .map(|(who, rows)| {
            let who = if who.is_empty() { String::new() } else { format!("{} {who}, ", language.word("bench-group")) };
            format!("{who}{rows} {}", language.word("fit-rows"))
        })
        .collect();
    let noted: BTreeMap<&str, Vec<&str>> =
        from.noted.values().flatten().fold(BTreeMap::new(), |mut all, (id, text)| {
            all.entry(id.as_str()).or_insert_with(Vec::new).push(text.as_str());
            all
        });
    let noted: Vec<String> = noted.iter().map(|(id, texts)| format!("{id} = {}", texts.join(", "))).collect();
    format!("{} ({}); {}. {}", from.readings, runs.join("; "), noted.join("; "), from.program)
}

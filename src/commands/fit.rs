//! `fit`: what the school's own bench is like. In: a file of readings. Out: a bench file with a page about it, and a summary on the
//! terminal or as JSON.

use std::path::{Path, PathBuf};

use indexmap::IndexMap;
use serde_json::{Map, Value, json};
use sha2::{Digest, Sha256};

use super::{Console, Stop, args, load, one_file, readings};
use crate::{
    class::Edition,
    compose::{self, Facts},
    experiment::Experiment,
    fit::{self, BenchFile, BenchFit, FitFailure, Lesson, Provenance, Reason},
    graph::GraphPaper,
    key::Key,
    language::Language,
    measured::{self, MeasuredRun},
    press::{Documents, Paper, PdfJob, Press, PressError, Standards},
    quantity::rounding,
    report::{Place, Problem, nearest},
    set,
};

/// Significant figures on the terminal.
const FIGURES: usize = 4;

pub(super) fn run(args: &args::Fit, language: &'static Language, console: &mut Console<'_>) -> Result<(), Stop> {
    let experiment = load::experiment(&args.experiment, console)?;
    let id = &experiment.definition.id;
    let target = args.out.clone().unwrap_or_else(|| PathBuf::from("out").join(format!("{id}-bench.yaml")));
    let page = target.with_extension("pdf");
    for path in [&target, &page] {
        if path.exists() && !args.force {
            let problem = Problem::error("a file stands there already").at(Place::File(path.display().to_string()));
            return Err(problem.hint("choose another one with `--out`, or replace it with `--force`").into());
        }
    }
    let runs = chosen(args, readings::runs(&args.readings, &args.noted, &experiment, console)?)?;
    let found = fit::fit(&experiment, &runs).map_err(|failure| refused(&failure))?;
    let lesson = found.runs.first().and_then(|run| fit::lesson(&experiment, &run.settings));
    let from = provenance(args, &runs)?;
    let text = BenchFile::write(&experiment, &found, &from);
    let pdf = printed(&experiment, &found, (&runs, lesson.as_ref(), &from), language, args.paper.into())?;
    one_file::keep(&page, &pdf, "page")?;
    one_file::keep(&target, text.as_bytes(), "bench file")?;
    if args.json {
        console.print(&format!("{:#}\n", document(&experiment, &found, lesson.as_ref(), &target)));
    } else {
        console.print(&summary(&experiment, &found, lesson.as_ref(), &target));
    }
    Ok(())
}

/// The runs of the groups that were asked for.
fn chosen(args: &args::Fit, runs: Vec<MeasuredRun>) -> Result<Vec<MeasuredRun>, Stop> {
    let unknown = args.group.iter().filter(|group| runs.iter().all(|run| run.who != **group));
    let problems: Vec<Problem> = unknown
        .map(|group| {
            let known: Vec<&str> = runs.iter().map(|run| run.who.as_str()).collect();
            let problem = Problem::error(format!("the file has no run of group `{group}`"));
            match nearest(group, known.iter().copied()) {
                Some(near) => problem.hint(format!("did you mean `{near}`?")),
                None => problem.hint(format!("it has: {}", known.join(", "))),
            }
        })
        .collect();
    if !problems.is_empty() {
        return Err(Stop::Input(problems));
    }
    Ok(runs.into_iter().filter(|run| args.group.is_empty() || args.group.contains(&run.who)).collect())
}

fn refused(failure: &FitFailure) -> Stop {
    let hint = match failure {
        FitFailure::NothingToFit => "name them under `fittable` in the definition",
        FitFailure::NothingTold => "fit a run of another experiment with this bench",
        FitFailure::TooFew { .. } => "read more rows, or fit several runs together",
        FitFailure::Bench(_) => "check what was noted once for the run, and its units",
    };
    Problem::error(failure.to_string()).hint(hint).into()
}

fn provenance(args: &args::Fit, runs: &[MeasuredRun]) -> Result<Provenance, Stop> {
    let bytes = readings::bytes(&args.readings)?;
    let digest: String = Sha256::digest(&bytes).iter().map(|byte| format!("{byte:02x}")).collect();
    let noted = |run: &MeasuredRun| -> IndexMap<String, String> {
        let told = run.told.iter();
        told.map(|one| (one.id.clone(), format!("{} {}", one.text, one.unit.print()).trim().to_owned())).collect()
    };
    Ok(Provenance {
        program: set::PROGRAM.to_owned(),
        readings: args.readings.file_name().unwrap_or_default().to_string_lossy().into_owned(),
        sha256: digest,
        runs: runs.iter().map(|run| (run.who.clone(), run.rows.len())).collect(),
        noted: runs.iter().map(|run| (run.who.clone(), noted(run))).collect(),
    })
}

/// The page about the fit.
fn printed(
    experiment: &Experiment,
    found: &BenchFit,
    (runs, lesson, from): (&[MeasuredRun], Option<&Lesson>, &Provenance),
    language: &'static Language,
    paper: Paper,
) -> Result<Vec<u8>, Stop> {
    let own = |error: PressError| Stop::Own(error.to_string());
    let Some(run) = runs.first() else { return Err(refused(&FitFailure::NothingToFit)) };
    let (variant, _) = measured::variant(experiment, run);
    let key = Key::build_for(Edition::Core, GraphPaper::of(false), experiment, &variant, &run.who)
        .map_err(|error| Stop::Own(error.to_string()))?;
    let facts = Facts { experiment, variant: &variant, key: &key, language };
    let page = compose::bench_fit(&facts, found, lesson, from);
    let source = Documents::new().and_then(|documents| documents.teacher(&page, paper)).map_err(own)?;
    let ident = [experiment.definition.id.as_str(), "fit", from.sha256.as_str()].join("\u{1F}");
    let job = PdfJob { ident, standards: Standards::Accessible };
    Ok(Press::new().pdf(source, &job).map_err(own)?.bytes)
}

fn unit<'a>(experiment: &'a Experiment, input: &str) -> &'a str {
    experiment
        .bench
        .inputs()
        .iter()
        .find(|one| one.name == input)
        .map_or("", |one| if one.unit == "1" { "" } else { one.unit })
}

fn reason(reason: &Reason) -> String {
    match reason {
        Reason::Scatter(times) => {
            format!("readings scatter {} times as much as instruments explain", rounding::to_figures(*times, 2).text)
        }
        Reason::Pattern(_) => "residuals follow a pattern: something happened that the equations lack".to_owned(),
        Reason::AtEnd(input) => format!("{input} lies at the end of what is sensible"),
        Reason::Together(one, other, found) => {
            format!("{one} and {other} are hard to tell apart (correlation {})", rounding::to_places(*found, 2).text)
        }
    }
}

fn summary(experiment: &Experiment, found: &BenchFit, lesson: Option<&Lesson>, target: &Path) -> String {
    let figures = |value: f64| rounding::to_figures(value, FIGURES).text;
    let mut text = String::new();
    for one in &found.fitted {
        let (low, high) = one.interval;
        let unit = unit(experiment, &one.input);
        let spread = rounding::to_figures(one.standard, 2).text;
        let value = format!("{} {unit}", figures(one.value));
        text.push_str(&format!(
            "{} = {}, standard uncertainty {spread}, 95 % from {} to {}\n",
            one.input,
            value.trim_end(),
            figures(low),
            figures(high)
        ));
    }
    for held in &found.held {
        let value = figures(held.value);
        text.push_str(&format!(
            "{} held at {value} {}: {}\n",
            held.input,
            unit(experiment, &held.input),
            held.because.words()
        ));
    }
    if let Some(lesson) = lesson {
        let schedule = experiment.schedule.unit.print();
        let column = experiment.column_unit(&lesson.column).map(crate::quantity::Unit::print).unwrap_or_default();
        let mut parts =
            vec![format!("limit of {} {} {column}", lesson.column, rounding::to_figures(lesson.limit, FIGURES).text)];
        for (share, at) in [("63 %", lesson.to_63), ("95 %", lesson.to_95)] {
            parts.extend(at.map(|at| format!("{share} after {} {schedule}", rounding::to_figures(at, 3).text)));
        }
        text.push_str(&format!("{}\n", parts.join(", ")));
    }
    let word = if found.verdict.is_good() { "good" } else { "poor" };
    let reasons: Vec<String> = found.verdict.poor.iter().chain(&found.verdict.notes).map(reason).collect();
    let reasons = if reasons.is_empty() { String::new() } else { format!(": {}", reasons.join("; ")) };
    text.push_str(&format!("a {word} fit{reasons}\n"));
    text.push_str(&format!("bench file {}, page {}\n", target.display(), target.with_extension("pdf").display()));
    text
}

fn document(experiment: &Experiment, found: &BenchFit, lesson: Option<&Lesson>, target: &Path) -> Value {
    let fitted = found.fitted.iter().map(|one| {
        let value = json!({
            "value": one.value, "unit": unit(experiment, &one.input), "standard": one.standard,
            "standard_from_noise": one.noise, "interval_95": [one.interval.0, one.interval.1], "at_end": one.at_end,
        });
        (one.input.clone(), value)
    });
    let held = found.held.iter().map(|one| {
        let value = json!({ "value": one.value, "unit": unit(experiment, &one.input), "because": one.because.words() });
        (one.input.clone(), value)
    });
    let lesson = lesson.map(|lesson| {
        json!({ "column": lesson.column, "limit": lesson.limit, "to_63": lesson.to_63, "to_95": lesson.to_95 })
    });
    json!({
        "file": target.display().to_string(),
        "verdict": if found.verdict.is_good() { "good" } else { "poor" },
        "reasons": found.verdict.poor.iter().chain(&found.verdict.notes).map(reason).collect::<Vec<_>>(),
        "parameters": fitted.collect::<Map<_, _>>(),
        "held": held.collect::<Map<_, _>>(),
        "correlation": found.correlation,
        "residual_over_instrument": found.scatter,
        "degrees_of_freedom": found.freedom,
        "lesson": lesson,
    })
}

//! A bench file: what a bench is set to, found by a fit, with where it comes from. In: YAML. Out: settings for an experiment, or what
//! is wrong with the file, located. It must change no physics.

use std::{path::Path, sync::Arc};

use indexmap::IndexMap;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::BenchFit;
use crate::{
    draw::Range,
    experiment::{self, Experiment, PlaceMap, escape, plan::DrawnQuantity, structure},
    quantity::{Quantity, Unit, rounding},
    report::{Place, Problem, Problems, Source, nearest},
};

/// The format that this program reads and writes.
const FORMAT: u32 = 1;
/// Significant figures of what is found: more than any run can tell.
const FIGURES: usize = 6;
/// Those of its uncertainty.
const UNCERTAINTY_FIGURES: usize = 3;

/// A bench file as it is read: what was found. What else stands in it is for people.
#[derive(Debug, Clone, Deserialize, JsonSchema)]
pub struct BenchFile {
    /// Version of this format: 1.
    format: u32,
    /// The bench.
    bench: String,
    /// Inputs of the bench with their values, such as `loss_linear: 13.4 W/(m2 K)`.
    settings: IndexMap<String, Quantity>,
    /// The text of the file.
    #[serde(skip)]
    #[schemars(skip)]
    source: Option<Arc<Source>>,
}

/// Where a bench file comes from.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Provenance {
    /// The program.
    pub program: String,
    /// The name of the file of readings.
    pub readings: String,
    /// Its SHA-256.
    pub sha256: String,
    /// The runs, with how many rows each has.
    pub runs: IndexMap<String, usize>,
    /// What was noted of each run.
    pub noted: IndexMap<String, IndexMap<String, String>>,
}

#[derive(Serialize)]
struct Written<'a> {
    format: u32,
    bench: &'a str,
    experiment: &'a str,
    verdict: &'a str,
    settings: IndexMap<&'a str, String>,
    uncertainty: IndexMap<&'a str, Uncertainty>,
    #[serde(skip_serializing_if = "IndexMap::is_empty")]
    held: IndexMap<&'a str, HeldText>,
    residuals: IndexMap<String, String>,
    from: &'a Provenance,
}

#[derive(Serialize)]
struct Uncertainty {
    standard: String,
    from_noise_alone: String,
    interval_95: [String; 2],
}

#[derive(Serialize)]
struct HeldText {
    at: String,
    because: String,
}

impl BenchFile {
    /// The text of a file for a fit.
    pub fn write(experiment: &Experiment, fit: &BenchFit, from: &Provenance) -> String {
        let unit =
            |input: &str| experiment.bench.inputs().iter().find(|one| one.name == input).map_or("", |one| one.unit);
        let with_unit = |text: String, input: &str| match unit(input) {
            "1" | "" => text,
            unit => format!("{text} {unit}"),
        };
        let figures = |value: f64, figures| rounding::to_figures(value, figures).text;
        // Differences of temperatures are in kelvins.
        let difference = |value: f64, input: &str| {
            let text = figures(value, UNCERTAINTY_FIGURES);
            if unit(input) == "°C" { format!("{text} K") } else { with_unit(text, input) }
        };
        let verdict = if fit.verdict.is_good() { "good" } else { "poor" };
        let settings =
            fit.fitted.iter().map(|one| (one.input.as_str(), with_unit(figures(one.value, FIGURES), &one.input)));
        let uncertainty = fit.fitted.iter().map(|one| {
            let ends = [one.interval.0, one.interval.1].map(|end| with_unit(figures(end, FIGURES), &one.input));
            let found = Uncertainty {
                standard: difference(one.standard, &one.input),
                from_noise_alone: difference(one.noise, &one.input),
                interval_95: ends,
            };
            (one.input.as_str(), found)
        });
        let held = fit.held.iter().map(|one| {
            (
                one.input.as_str(),
                HeldText { at: with_unit(figures(one.value, FIGURES), &one.input), because: one.because.words() },
            )
        });
        let residuals = fit.runs.iter().flat_map(|run| {
            run.columns.iter().map(|column| {
                let unit = experiment.column_unit(&column.id).map(Unit::of_differences).unwrap_or_else(Unit::one);
                let text = format!("{} {}", figures(column.misfit(), UNCERTAINTY_FIGURES), unit.print());
                (format!("{} {}", run.who, column.id).trim().to_owned(), text.trim().to_owned())
            })
        });
        let written = Written {
            format: FORMAT,
            bench: experiment.bench.id(),
            experiment: &experiment.definition.id,
            verdict,
            settings: settings.collect(),
            uncertainty: uncertainty.collect(),
            held: held.collect(),
            residuals: residuals.collect(),
            from,
        };
        let head = "# A school's own bench, found from its readings. Use it with `--bench`; what stands under `settings` counts.\n";
        format!("{head}{}", serde_yaml::to_string(&written).unwrap_or_default())
    }

    /// Reads a bench file.
    ///
    /// # Errors
    /// Everything that is wrong with its form.
    pub fn read(path: &Path) -> Result<Self, Problems> {
        let name = path.display().to_string();
        let text = std::fs::read_to_string(path).map_err(|error| {
            let problem = Problem::error(format!("the bench file can not be read: {error}"));
            vec![problem.at(Place::File(name.clone())).hint("`labquire fit` writes such a file")]
        })?;
        Self::parse(&Source::new(name, text))
    }

    /// The bench file of a text.
    ///
    /// # Errors
    /// Everything that is wrong with its form.
    pub fn parse(source: &Arc<Source>) -> Result<Self, Problems> {
        let places = PlaceMap::read(source)?;
        let schema = serde_json::Value::from(schemars::schema_for!(Self));
        let problems = structure::check(&places, &schema, experiment::FORMATS);
        if !problems.is_empty() {
            return Err(problems);
        }
        let found: Self =
            serde_yaml::from_str(&source.text).map_err(|error| vec![structure::serde_problem(&places, &error)])?;
        if found.format != FORMAT {
            let problem = Problem::error(format!("format {} is not known", found.format)).at(places.value("/format"));
            return Err(vec![problem.label(format!("expected {FORMAT}")).hint(format!("write `format: {FORMAT}`"))]);
        }
        Ok(Self { source: Some(Arc::clone(source)), ..found })
    }

    /// The text of the file.
    pub fn text(&self) -> &str {
        self.source.as_ref().map_or("", |source| source.text.as_str())
    }

    /// Lets an experiment's bench be this one. What is drawn around a value that was found is drawn around this value, as
    /// widely as before.
    ///
    /// # Errors
    /// Settings that the bench does not have, of another kind, or beyond its model.
    pub fn apply(&self, experiment: &mut Experiment) -> Result<(), Problems> {
        let Some(source) = &self.source else { return Ok(()) };
        let places = PlaceMap::read(source)?;
        if self.bench != experiment.bench.id() {
            let message =
                format!("the file is of the bench `{}`, the experiment has `{}`", self.bench, experiment.bench.id());
            let problem = Problem::error(message).at(places.value("/bench")).label("another bench");
            return Err(vec![problem.hint("fit a run of this experiment, or of another one with the same bench")]);
        }
        let mut problems = Problems::new();
        for (name, quantity) in &self.settings {
            let pointer = format!("/settings/{}", escape(name));
            let inputs = experiment.bench.inputs();
            let Some(input) = inputs.iter().find(|input| input.name == name) else {
                let problem = Problem::error(format!("the bench has no input `{name}`")).at(places.key(&*pointer));
                let near = nearest(name, inputs.iter().map(|input| input.name));
                let hint = near.map_or_else(|| "delete this line".to_owned(), |near| format!("did you mean `{near}`?"));
                problems.push(problem.label("no such input").hint(hint));
                continue;
            };
            let unit = Unit::parse(input.unit)
                .ok()
                .filter(|unit| unit.dimension() == quantity.dimension() && unit.kind() == quantity.unit.kind());
            let Some(unit) = unit else {
                let problem = Problem::error(format!("`{name}` is set to a quantity of another kind"));
                let problem =
                    problem.at(places.value(&*pointer)).label(format!("expected a unit like `{}`", input.unit));
                problems.push(problem.hint(format!("it is: {}", input.about)));
                continue;
            };
            let value = unit.from_si(quantity.si());
            let (low, high) = input.valid;
            if !(low..=high).contains(&value) {
                let problem = Problem::error(format!("the bench's model does not cover {}", quantity.text));
                let problem = problem.at(places.value(&*pointer)).label("outside the valid range");
                problems.push(problem.hint(format!("`{name}` may be from {low} to {high} {}", input.unit)));
                continue;
            }
            match experiment.drawn.iter_mut().find(|drawn| drawn.input.name == *name) {
                Some(drawn) => drawn.range = around(drawn, value, input.valid),
                None => {
                    experiment.settings.retain(|(known, _)| known != name);
                    experiment.settings.push((name.clone(), value));
                }
            }
        }
        if problems.is_empty() { Ok(()) } else { Err(problems) }
    }
}

/// A range as wide as a drawn quantity's around a value of its input, within what the bench covers.
fn around(drawn: &DrawnQuantity, value: f64, valid: (f64, f64)) -> Range {
    let printed = |value: f64| drawn.unit.from_si(drawn.input.unit.to_si(value));
    let Range { step, count, places, .. } = drawn.range;
    let width = f64::from(count - 1) * step;
    let (low, high) = (printed(valid.0), printed(valid.1));
    // On the grid of the definition's steps, so that printed values stay as they were.
    let from = (libm::round((printed(value) - width / 2.0) / step) * step)
        .min(libm::floor((high - width) / step) * step)
        .max(libm::ceil(low / step) * step);
    Range { from: rounding::to_places(from, places).value, step, count, places }
}

//! From a file's text to a checked experiment. In: a source. Out: the experiment and its warnings, or all errors in order.
//! It must stop at nothing: every part is looked at, however wrong another part is.

mod drawn;
mod fairness;
mod graphs;
mod inputs;
mod instruments;
mod marks;
mod measured;
mod names;
mod real;
mod tasks;
mod texts;
mod words;

use std::{collections::BTreeSet, sync::Arc};

use super::{Definition, Experiment, PlaceMap, structure};
use crate::{
    bench::{self, Bench},
    formula::{FormulaError, Shape, Type},
    quantity::{Quantity, QuantityError, Unit},
    report::{Level, Problem, Problems, Source},
};

pub(crate) use names::Names;
pub(crate) use real::OF_BENCH;

/// The format that this program reads.
const FORMAT: u32 = 1;

/// Texts whose writing is checked with the form of the file, so that all of them are found at once.
pub(crate) const FORMATS: &[structure::Format] = &[structure::Format { name: Quantity::FORMAT, read: read_quantity }];

fn read_quantity(text: &str) -> Result<(), structure::FormatFault> {
    let QuantityError { message, hint, span } = match text.parse::<Quantity>() {
        Ok(_) => return Ok(()),
        Err(error) => error,
    };
    Err(structure::FormatFault { message, hint, span })
}

/// Reads and checks an experiment.
///
/// # Errors
/// Everything that is wrong with the file, in order of place, warnings included.
pub fn load(source: &Arc<Source>) -> Result<(Experiment, Problems), Problems> {
    let places = PlaceMap::read(source)?;
    let definition = parse(source, &places)?;
    let mut checker = Checker { places: &places, problems: Vec::new(), faulty: BTreeSet::new() };
    let experiment = checker.experiment(source, definition);
    let problems = once(checker.problems);
    match experiment {
        Some(experiment) if problems.iter().all(|problem| problem.level != Level::Error) => Ok((experiment, problems)),
        _ => Err(problems),
    }
}

/// Each problem once: an instrument that reads twice is looked at twice.
fn once(problems: Problems) -> Problems {
    let mut kept: Problems = Vec::with_capacity(problems.len());
    for problem in problems {
        if !kept.contains(&problem) {
            kept.push(problem);
        }
    }
    kept
}

/// The JSON Schema of the format.
pub fn schema() -> serde_json::Value {
    serde_json::Value::from(schemars::schema_for!(Definition))
}

/// Reads a definition without checking what it means.
///
/// # Errors
/// What keeps the file from having the form of a definition.
pub fn read(source: &Arc<Source>) -> Result<Definition, Problems> {
    serde_yaml::from_str(&source.text).or_else(|_| parse(source, &PlaceMap::read(source)?))
}

fn parse(source: &Source, places: &PlaceMap) -> Result<Definition, Problems> {
    let problems = structure::check(places, &schema(), FORMATS);
    if !problems.is_empty() {
        return Err(problems);
    }
    serde_yaml::from_str(&source.text).map_err(|error| vec![structure::serde_problem(places, &error)])
}

/// Gathers problems while parts are checked.
pub(super) struct Checker<'a> {
    places: &'a PlaceMap,
    problems: Problems,
    /// Names of quantities whose definition is at fault, so that their uses are not blamed.
    faulty: BTreeSet<String>,
}

/// What a unit measures, in words.
fn measure(unit: &Unit) -> String {
    Type { dimension: unit.dimension(), kind: unit.kind(), shape: Shape::Scalar }.words()
}

impl Checker<'_> {
    fn experiment(&mut self, source: &Arc<Source>, definition: Definition) -> Option<Experiment> {
        if definition.format != FORMAT {
            let message = format!("format {} is not known", definition.format);
            self.error("/format", message, &format!("expected {FORMAT}"), Some(format!("write `format: {FORMAT}`")));
        }
        let well_formed = |id: &str| {
            !id.is_empty() && id.chars().all(|sign| matches!(sign, 'a'..='z' | '0'..='9' | '-')) && !id.starts_with('-')
        };
        if !well_formed(&definition.id) {
            let near = definition.id.trim().to_lowercase().replace([' ', '_', '.'], "-");
            let near = if well_formed(&near) { near.as_str() } else { "pumped-loop" };
            let hint = Some(format!("use lower-case letters, digits and hyphens, such as `{near}`"));
            self.error("/id", format!("`{}` is no id", definition.id), "not an id", hint);
        }
        self.texts(&definition);
        self.fairness(&definition);
        self.cautions(&definition);
        let bench = self.bench(&definition.bench);
        let settings = self.settings(&definition, bench);
        let drawn = self.drawn(&definition, bench);
        let given = self.given(&definition, bench);
        let schedule = self.schedule(&definition, bench);
        let columns = self.read_quantities(&definition, &definition.readings.table, "table", bench);
        let once = self.read_quantities(&definition, &definition.readings.once, "once", bench);
        self.inputs_set_once(&definition);
        let mut names = Names::default();
        self.gather_names(&definition, &mut names);
        let tasks = self.tasks(&definition, &mut names);
        let conditions = self.conditions(&definition, &mut names);
        let fittable = self.fittable(&definition, bench);
        let causes = self.causes(&definition, &names);
        self.words(&definition, &names);
        Some(Experiment {
            source: Arc::clone(source),
            settings,
            drawn,
            given,
            columns,
            once,
            conditions,
            fittable,
            causes,
            tasks,
            bench: bench?,
            schedule: schedule?,
            definition,
        })
    }

    fn bench(&mut self, id: &str) -> Option<&'static dyn Bench> {
        let found = bench::find(id);
        if found.is_none() {
            let known: Vec<&str> = bench::all().iter().map(|bench| bench.id()).collect();
            self.unknown("/bench", "bench", id, &known);
        }
        found
    }

    fn error(&mut self, pointer: &str, message: impl Into<String>, label: &str, hint: Option<String>) {
        let problem = Problem::error(message).at(self.places.value(pointer)).label(label);
        self.problems.push(Problem { hint, ..problem });
    }

    fn warning(&mut self, pointer: &str, message: impl Into<String>, label: &str, hint: &str) {
        self.problems.push(Problem::warning(message).at(self.places.key(pointer)).label(label).hint(hint));
    }

    fn unknown(&mut self, pointer: &str, what: &str, found: &str, known: &[&str]) {
        let hint = match crate::report::nearest(found, known.iter().copied()) {
            Some(near) => format!("did you mean `{near}`?"),
            None => format!("known are {}", known.join(", ")),
        };
        self.error(pointer, format!("unknown {what} `{found}`"), &format!("no such {what}"), Some(hint));
    }

    /// Places a formula's fault inside the file.
    fn formula_fault(&mut self, pointer: &str, fault: FormulaError) {
        let problem = Problem::error(fault.message).at(self.places.inside(pointer, &fault.span)).label(fault.label);
        self.problems.push(Problem { hint: fault.hint, ..problem });
    }
}

//! Draws one student: parameters, run, readings, until all conditions hold. In: an experiment and a seed.
//! Out: a variant, or the condition that can't be met. The number of tries is bounded.

use super::{
    Known, Stated, Variant,
    read::{once_of, readings_of, schedule_of},
};
use crate::{
    bench::{BenchError, Run, Settings},
    draw::Seed,
    experiment::{Experiment, PlaceMap, plan::DrawnQuantity},
    formula,
    quantity::rounding,
    report::Problem,
};

/// Draws of one student before it is said that a condition can't be met.
const MOST_TRIES: u32 = 200;

/// Rejected draws by reason: for each condition, and those the bench refused.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Rejections {
    /// Counts in the order of the experiment's conditions.
    pub by_condition: Vec<u32>,
    /// Draws that the bench refused.
    pub by_bench: u32,
    /// What the bench said last.
    pub bench_said: String,
}

/// No draw met the conditions.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[error("no draw of {student} met the conditions in {tries} tries")]
pub struct DrawError {
    /// The student's id.
    pub student: String,
    /// How many draws there were.
    pub tries: u32,
    /// Why they were rejected.
    pub rejections: Rejections,
}

impl DrawError {
    /// The error as a problem of the definition, at the condition that rejected most.
    pub fn problem(&self, experiment: &Experiment) -> Problem {
        let message = self.to_string();
        let worst = self.rejections.by_condition.iter().enumerate().max_by_key(|(_, count)| **count);
        match worst {
            Some((index, &count)) if count > self.rejections.by_bench => {
                let condition = &experiment.definition.conditions[index];
                let why = condition.why.in_language("en");
                let problem = Problem::error(message)
                    .label(format!("rejected {count} of {} draws: {why}", self.tries))
                    .hint("widen the ranges under `drawn`, or loosen this condition");
                match PlaceMap::read(&experiment.source) {
                    Ok(places) => problem.at(places.value(format!("/conditions/{index}/holds"))),
                    Err(_) => problem,
                }
            }
            _ => Problem::error(message)
                .label(String::new())
                .hint(format!("the bench refused {} draws: {}", self.rejections.by_bench, self.rejections.bench_said)),
        }
    }
}

/// What became of one draw of a student.
#[derive(Debug, Clone, PartialEq)]
pub enum Outcome {
    /// It meets all conditions.
    Good(Box<Variant>),
    /// It does not meet this condition, by its place in the definition.
    Unmet(usize),
    /// The bench refused it, in these words.
    Refused(String),
}

/// One draw of a student: the same for ever, whatever came before it.
pub fn outcome(experiment: &Experiment, seed: &Seed<'_>) -> Outcome {
    match attempt(experiment, seed) {
        Ok(variant) => match unmet(experiment, &variant) {
            Some(condition) => Outcome::Unmet(condition),
            None => Outcome::Good(Box::new(variant)),
        },
        Err(error) => Outcome::Refused(error.to_string()),
    }
}

/// Draws a student: the first draw that meets all conditions.
///
/// # Errors
/// A [`DrawError`] after a bounded number of tries, with the count of rejections by reason.
pub fn draw(experiment: &Experiment, set: &str, student: &str) -> Result<Variant, DrawError> {
    let mut rejections = Rejections::none(experiment);
    for attempt in 0..MOST_TRIES {
        match outcome(experiment, &Seed { set, student, attempt }) {
            Outcome::Good(variant) => return Ok(*variant),
            other => rejections.count(other),
        }
    }
    Err(DrawError { student: student.to_owned(), tries: MOST_TRIES, rejections })
}

/// Why a student's draws were turned down until one met all conditions.
pub fn rejections(experiment: &Experiment, set: &str, student: &str) -> Rejections {
    let mut found = Rejections::none(experiment);
    let draws = (0..MOST_TRIES).map(|attempt| outcome(experiment, &Seed { set, student, attempt }));
    draws.take_while(|outcome| !matches!(outcome, Outcome::Good(_))).for_each(|outcome| found.count(outcome));
    found
}

impl Rejections {
    fn none(experiment: &Experiment) -> Self {
        Self { by_condition: vec![0; experiment.conditions.len()], ..Self::default() }
    }

    /// All of them.
    pub fn all(&self) -> u32 {
        self.by_condition.iter().sum::<u32>() + self.by_bench
    }

    fn count(&mut self, outcome: Outcome) {
        match outcome {
            Outcome::Good(_) => {}
            Outcome::Unmet(condition) => self.by_condition[condition] += 1,
            Outcome::Refused(words) => {
                self.by_bench += 1;
                self.bench_said = words;
            }
        }
    }
}

/// The first condition that a variant does not meet; one that has no value is not met.
fn unmet(experiment: &Experiment, variant: &Variant) -> Option<usize> {
    let known = Known::of(experiment, variant);
    experiment.conditions.iter().position(|condition| !formula::holds(condition, &known).unwrap_or(false))
}

/// The bench's settings for drawn quantities given in their own units.
pub fn settings_of(experiment: &Experiment, drawn: &[Stated]) -> Result<Settings, BenchError> {
    let mut settings = Settings::defaults(experiment.bench);
    for (name, value) in &experiment.settings {
        settings.set(name, *value)?;
    }
    for given in &experiment.given {
        if let Some(input) = &given.input {
            settings.set(&input.name, input.unit.from_si(given.value.si()))?;
        }
    }
    for (quantity, stated) in experiment.drawn.iter().zip(drawn) {
        settings.set(&quantity.input.name, quantity.input.unit.from_si(stated.unit.to_si(stated.value)))?;
    }
    Ok(settings)
}

/// The true states behind the readings.
///
/// # Errors
/// If the bench refuses these quantities.
pub fn run_of(experiment: &Experiment, drawn: &[Stated]) -> Result<Run, BenchError> {
    experiment.bench.run(&settings_of(experiment, drawn)?, &schedule_of(experiment))
}

/// The drawn quantities of an attempt, whether or not they will meet the conditions.
pub fn drawn_of(experiment: &Experiment, seed: &Seed<'_>) -> Vec<Stated> {
    let one = |quantity: &DrawnQuantity| {
        let value = quantity.range.draw(seed, &quantity.id);
        let text = rounding::to_places(value, quantity.range.places).text;
        Stated { id: quantity.id.clone(), value, text, unit: quantity.unit.clone() }
    };
    experiment.drawn.iter().map(one).collect()
}

/// One draw of a student, whether or not it meets the conditions.
pub(crate) fn attempt(experiment: &Experiment, seed: &Seed<'_>) -> Result<Variant, BenchError> {
    let drawn = drawn_of(experiment, seed);
    let run = run_of(experiment, &drawn)?;
    let table = readings_of(experiment, &run, seed, false);
    let shown = experiment.drawn.iter().zip(&drawn).filter(|(quantity, _)| quantity.told);
    let given = experiment.given.iter().map(|given| Stated {
        id: given.id.clone(),
        value: given.value.value,
        text: given.value.text.clone(),
        unit: given.value.unit.clone(),
    });
    let told = shown.map(|(_, stated)| stated.clone()).chain(given).chain(once_of(experiment, &run, seed)).collect();
    Ok(Variant { drawn, told, table, measured: false, attempt: seed.attempt })
}

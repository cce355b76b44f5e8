//! What an author should think again about, though it is allowed. In: a sound experiment. Out: warnings with places.
//! It may draw and answer like a set does, but it must change nothing and print nothing.

mod answers;
mod conditions;
mod editions;
mod fairness;
mod rows;
mod sample;
mod uses;

use std::sync::Arc;

use crate::{
    experiment::{self, Experiment, PlaceMap},
    key::slip_warnings,
    press,
    report::{Level, Problem, Problems, Source, nearest},
};
use sample::Sample;

/// Everything that can be said of a definition: what is wrong with it, and if nothing is, what is doubtful.
///
/// # Errors
/// All problems, warnings included, where one of them is an error.
pub fn check(source: &Arc<Source>) -> Result<(Experiment, Problems), Problems> {
    let (experiment, mut problems) = experiment::load(source)?;
    problems.extend(review(&experiment)?);
    if problems.iter().any(|problem| problem.level == Level::Error) {
        Err(problems)
    } else {
        Ok((experiment, problems))
    }
}

/// What is doubtful in a sound experiment.
///
/// # Errors
/// Where the experiment's own text can no longer be read.
pub fn review(experiment: &Experiment) -> Result<Problems, Problems> {
    let mut reviewer = Reviewer { experiment, places: PlaceMap::read(&experiment.source)?, problems: Vec::new() };
    reviewer.problems.extend(unknown_drawing(experiment, &reviewer.places));
    reviewer.time_plan();
    reviewer.uses();
    reviewer.symbols();
    reviewer.editions();
    reviewer.rows();
    let sample = Sample::draw(experiment);
    reviewer.conditions(&sample);
    reviewer.answers(&sample);
    reviewer.fairness(&sample);
    let slips = slip_warnings(experiment, &reviewer.places, &sample.keys);
    reviewer.problems.extend(slips);
    Ok(reviewer.problems)
}

/// Whether everything that an experiment's pages need is there.
///
/// # Errors
/// What is missing, with its place.
pub fn printable(experiment: &Experiment) -> Result<(), Problems> {
    let missing = unknown_drawing(experiment, &PlaceMap::read(&experiment.source)?);
    missing.map_or(Ok(()), |problem| Err(vec![problem]))
}

fn unknown_drawing(experiment: &Experiment, places: &PlaceMap) -> Option<Problem> {
    let art = &experiment.definition.picture.art;
    let known = press::drawings();
    if known.contains(&art.as_str()) {
        return None;
    }
    let hint = nearest(art, known.iter().copied())
        .map_or_else(|| format!("drawings are {}", known.join(", ")), |near| format!("did you mean `{near}`?"));
    let problem = Problem::error(format!("unknown drawing `{art}`"));
    Some(problem.at(places.value("/picture/art")).label("no such drawing").hint(hint))
}

/// Gathers what is doubtful.
struct Reviewer<'a> {
    experiment: &'a Experiment,
    places: PlaceMap,
    problems: Problems,
}

impl Reviewer<'_> {
    fn warn(&mut self, pointer: &str, message: String, label: &str, hint: &str) {
        self.problems.push(Problem::warning(message).at(self.places.key(pointer)).label(label).hint(hint));
    }

    fn time_plan(&mut self) {
        let definition = &self.experiment.definition;
        let (minutes, plan) = (definition.minutes, &definition.teacher.time_plan);
        let sum: u32 = plan.iter().map(|step| step.minutes).fold(0, u32::saturating_add);
        if !plan.is_empty() && sum != minutes {
            let message = format!("the time plan adds up to {sum} min, but the lesson has {minutes} min");
            let hint = "change a step of the plan, or `minutes` at the top of the file";
            self.warn("/teacher/time_plan", message, "does not add up", hint);
        }
    }
}

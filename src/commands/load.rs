//! What several commands load first. In: words of the command line. Out: experiments and languages, or problems.

use std::path::Path;

use super::{Console, Stop};
use crate::{
    class::{self, Roster},
    experiment::{self, Experiment, catalogue},
    language::Language,
    report::{Problem, nearest},
    review,
};

/// An experiment by catalogue id or path; its warnings go to the console.
pub(super) fn experiment(name: &str, console: &mut Console<'_>) -> Result<Experiment, Stop> {
    let source = catalogue::find(name)?;
    let (experiment, warnings) = experiment::load(&source)?;
    console.problems(&warnings);
    review::printable(&experiment)?;
    Ok(experiment)
}

/// The class of a file, or the demo class; notices go to the console.
pub(super) fn class(path: Option<&Path>, console: &mut Console<'_>) -> Result<Roster, Stop> {
    let Some(path) = path else { return Ok(class::demo()) };
    let (roster, notices) = class::read(path)?;
    console.problems(&notices);
    Ok(roster)
}

/// A language by its code.
pub(super) fn language(code: &str) -> Result<&'static Language, Stop> {
    Language::find(code).ok_or_else(|| {
        let known: Vec<&str> = Language::all().iter().map(|language| language.code.as_str()).collect();
        let problem = Problem::error(format!("unknown language `{code}`"));
        Stop::from(match nearest(code, known.iter().copied()) {
            Some(near) => problem.hint(format!("did you mean `{near}`?")),
            None => problem.hint(format!("known are {}", known.join(", "))),
        })
    })
}

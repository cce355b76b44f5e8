//! What several commands load first. In: words of the command line. Out: experiments and languages, or problems.

use std::{ffi::OsStr, path::Path};

use super::{Console, Stop};
use crate::{
    class::{self, Roster},
    experiment::{self, Experiment, catalogue},
    language::Language,
    press::{Fonts, FontsError},
    report::{Place, Problem, nearest},
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

/// The school's own fonts, where a folder is named; a notice where their digits are of unequal width.
pub(super) fn fonts(folder: Option<&Path>, console: &mut Console<'_>) -> Result<Option<Fonts>, Stop> {
    let Some(folder) = folder else { return Ok(None) };
    let place = || Place::File(folder.display().to_string());
    let unreadable = |fault: std::io::Error| {
        let problem = Problem::error(format!("the folder of fonts can't be read: {fault}")).at(place());
        Stop::from(problem.hint("name a folder with ttf, otf or ttc files"))
    };
    let mut files = Vec::new();
    for entry in std::fs::read_dir(folder).map_err(unreadable)? {
        let path = entry.map_err(unreadable)?.path();
        let is_font = path
            .extension()
            .and_then(OsStr::to_str)
            .is_some_and(|kind| ["ttf", "otf", "ttc"].iter().any(|known| kind.eq_ignore_ascii_case(known)));
        if is_font {
            let name = path.file_name().unwrap_or_default().to_string_lossy().into_owned();
            files.push((name, std::fs::read(&path).map_err(unreadable)?));
        }
    }
    // The order of a folder differs from machine to machine.
    files.sort();
    let fonts = Fonts::own(files).map_err(|faults| {
        let problems = faults.iter().map(|fault| {
            let hint = match fault {
                FontsError::Unreadable(_) => "take it out of the folder, or get it anew",
                FontsError::NoText => {
                    "put the files of one family for text there: regular, and bold and italic if it has them"
                }
                FontsError::Several { .. } => "leave the files of one of them there",
                FontsError::Lacks { .. } => "choose a font with all letters and digits of English",
            };
            Problem::error(fault.to_string()).at(place()).hint(hint)
        });
        Stop::Input(problems.collect())
    })?;
    if let Some(family) = fonts.ragged_digits() {
        let notice = Problem::notice(format!("the digits of `{family}` are not equally wide"));
        console.problems(&[notice.hint("numbers in tables will not stand exactly under each other")]);
    }
    Ok(Some(fonts))
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

//! Readings that were really taken. In: options and a file. Out: runs, and who has which of them. It must match nothing by guess: who
//! is left without a run is named.

use std::{collections::BTreeMap, path::Path};

use super::{Console, Stop, args, basis::Basis};
use crate::{
    class::{Roster, Student},
    experiment::Experiment,
    measured::{self, MeasuredFile, MeasuredRun, Role, sought},
    quantity::Quantity,
    report::{Problem, Problems, nearest},
    set::Readings,
    variant::Variant,
};

/// Where a set's readings come from.
pub(super) enum Taken {
    Drawn,
    Blank,
    Measured(BTreeMap<String, Variant>, String, Vec<u8>),
}

impl Taken {
    pub(super) fn readings(&self) -> Readings<'_> {
        match self {
            Self::Drawn => Readings::Drawn,
            Self::Blank => Readings::Blank,
            Self::Measured(runs, ..) => Readings::Measured(runs),
        }
    }

    /// The file as it came, so that it stays clear what keys were made from.
    pub(super) fn file(&self) -> Option<(String, &[u8])> {
        match self {
            Self::Measured(_, name, bytes) => Some((name.clone(), bytes)),
            Self::Drawn | Self::Blank => None,
        }
    }
}

/// What `make` is to print: drawn, blank, or the readings of a file.
pub(super) fn taken(args: &args::Make, basis: &Basis, console: &mut Console<'_>) -> Result<Taken, Stop> {
    let Some(path) = &args.measured else {
        return Ok(if args.blank { Taken::Blank } else { Taken::Drawn });
    };
    let runs = runs(path, &args.noted, &basis.experiment, console)?;
    let by = dealt(&basis.experiment, &basis.roster, runs, console)?;
    let ending = path.extension().map_or_else(|| "csv".into(), |ending| ending.to_string_lossy().to_lowercase());
    Ok(Taken::Measured(by, format!("readings.{ending}"), bytes(path)?))
}

/// The bytes of a file that was read before.
pub(super) fn bytes(path: &Path) -> Result<Vec<u8>, Stop> {
    std::fs::read(path).map_err(|error| {
        let problem = Problem::error(format!("the readings file can not be read again: {error}"));
        problem.at(crate::report::Place::File(path.display().to_string())).into()
    })
}

/// The runs of a file; notices go to the console.
pub(super) fn runs(
    path: &Path,
    noted: &args::Noted,
    experiment: &Experiment,
    console: &mut Console<'_>,
) -> Result<Vec<MeasuredRun>, Stop> {
    let start = noted.start.as_deref().map(|text| start(text, experiment)).transpose();
    let told = told(&noted.set, experiment);
    let (start, told) = match (start, told) {
        (Ok(start), Ok(told)) => (start, told),
        (start, told) => return Err(Stop::Input([start.err(), told.err()].into_iter().flatten().flatten().collect())),
    };
    let MeasuredFile { mut runs, notices } = measured::read(path, experiment, start)?;
    console.problems(&notices);
    for run in &mut runs {
        run.told.retain(|stated| told.iter().all(|set| set.id != stated.id));
        run.told.extend(told.iter().cloned());
    }
    let swapped: Problems = runs.iter().filter_map(|run| measured::swapped(experiment, run)).collect();
    if swapped.is_empty() { Ok(runs) } else { Err(Stop::Input(swapped)) }
}

fn quantity(text: &str, what: &str) -> Result<Quantity, Problems> {
    text.trim().parse().map_err(|error: crate::quantity::QuantityError| {
        let problem = Problem::error(format!("{what}: {}", error.message));
        vec![Problem { hint: error.hint, ..problem }]
    })
}

/// When a run began, in the schedule's unit.
fn start(text: &str, experiment: &Experiment) -> Result<f64, Problems> {
    let found = quantity(text, "`--start`")?;
    let unit = &experiment.schedule.unit;
    if found.dimension() != unit.dimension() {
        let problem = Problem::error(format!("`--start {text}` is of another kind than the schedule"));
        return Err(vec![problem.hint(format!("write it in a unit like `{}`", unit.print()))]);
    }
    Ok(unit.from_si(found.si()))
}

/// What the command line notes for all runs; all faults at once.
fn told(set: &[String], experiment: &Experiment) -> Result<Vec<crate::variant::Stated>, Problems> {
    let sought = sought(experiment);
    let once: Vec<_> = sought.iter().filter(|one| one.role == Role::Once).collect();
    let (mut found, mut problems) = (Vec::new(), Problems::new());
    for text in set {
        let Some((name, value)) = text.split_once('=') else {
            let problem = Problem::error(format!("`{text}` notes nothing"));
            problems.push(problem.hint("write `--set NAME=QUANTITY`, such as `--set m='150 g'`"));
            continue;
        };
        let id = id_of(experiment, name.trim());
        let Some(one) = once.iter().find(|one| one.id == id) else {
            let known: Vec<&str> = once.iter().map(|one| one.id).collect();
            let problem = Problem::error(format!("nothing is noted as `{}`", name.trim()));
            problems.push(match nearest(name.trim(), known.iter().copied()) {
                Some(near) => problem.hint(format!("did you mean `{near}`?")),
                None => problem.hint(format!("noted once are: {}", known.join(", "))),
            });
            continue;
        };
        match quantity(value, &format!("`{}`", name.trim())) {
            Ok(value) => match one.noted(&value) {
                Some(stated) => found.push(stated),
                None => {
                    let problem = Problem::error(format!("`{}` is noted in a unit of another kind", one.id));
                    problems.push(problem.hint(format!("write it in a unit like `{}`", one.unit.print())));
                }
            },
            Err(faults) => problems.extend(faults),
        }
    }
    if problems.is_empty() { Ok(found) } else { Err(problems) }
}

/// The name that formulas use for a quantity, which may be named as the bench's input that it sets or reads.
fn id_of<'a>(experiment: &'a Experiment, name: &'a str) -> &'a str {
    let drawn = experiment.drawn.iter().find(|drawn| drawn.told && drawn.input.name == name).map(|drawn| &drawn.id);
    let read = || experiment.read_inputs().find(|(_, input)| input.name == name).map(|(once, _)| &once.id);
    drawn.or_else(read).map_or(name, String::as_str)
}

/// The run of each student: that of the group, else the one under the student's id, else the only one there is.
fn dealt(
    experiment: &Experiment,
    roster: &Roster,
    runs: Vec<MeasuredRun>,
    console: &mut Console<'_>,
) -> Result<BTreeMap<String, Variant>, Stop> {
    let single = runs.len() == 1;
    let mut by: BTreeMap<String, Variant> = BTreeMap::new();
    let mut problems = Problems::new();
    for run in runs {
        let holders = holders(roster, &run.who, single);
        if holders.is_empty() {
            let message = format!("no student of class `{}` is in group `{}` or has this id", roster.name, run.who);
            let problem = Problem::warning(message).at(run.place.clone()).label("this run is not used");
            problems.push(problem.hint("write the group as in the class file's column `group`"));
            continue;
        }
        let (variant, noticed) = measured::variant(experiment, &run);
        problems.extend(noticed);
        by.extend(holders.into_iter().map(|student| (student, variant.clone())));
    }
    let without: Vec<&str> =
        roster.students.iter().map(|student| student.id.as_str()).filter(|id| !by.contains_key(*id)).collect();
    if by.is_empty() {
        problems.push(Problem::error("no student has readings").hint("write groups, or ids, as in the class file"));
        return Err(Stop::Input(problems));
    }
    if !without.is_empty() {
        let problem = Problem::warning(format!("without readings, and so without a sheet: {}", without.join(", ")));
        problems.push(problem.hint("add the run of their group to the file"));
    }
    console.problems(&problems);
    Ok(by)
}

/// The ids of those whose run this is.
fn holders(roster: &Roster, who: &str, single: bool) -> Vec<String> {
    // A sheet called `Group 2` is that of group 2.
    let last = who.rsplit(' ').next().unwrap_or(who);
    let of = |found: &dyn Fn(&Student) -> bool| -> Vec<String> {
        roster.students.iter().filter(|student| found(student)).map(|student| student.id.clone()).collect()
    };
    let in_group =
        |name: &str| of(&|student| student.group.as_ref().is_some_and(|group| group.eq_ignore_ascii_case(name)));
    let grouped = roster.students.iter().any(|student| student.group.is_some());
    let candidates = [in_group(who), in_group(last), of(&|student| student.id.eq_ignore_ascii_case(who))];
    let found = candidates.into_iter().find(|found| !found.is_empty());
    found.unwrap_or_else(|| if single && (who.is_empty() || !grouped) { of(&|_| true) } else { Vec::new() })
}

//! `check`: everything that is wrong with definitions. In: files. Out: located problems, or a line that all is well.

use super::{Console, Stop, args};
use crate::{
    experiment::{self, Experiment, PlaceMap, catalogue},
    key::{Key, slip_warnings},
    report::{self, Level, Problems},
    variant::{self, Tuning},
};

pub(super) fn run(args: &args::Check, console: &mut Console<'_>) -> Result<(), Stop> {
    let names = if args.files.is_empty() { catalogue::ids() } else { args.files.clone() };
    let mut problems: Problems = Vec::new();
    for name in &names {
        match catalogue::find(name) {
            Err(problem) => problems.push(problem),
            Ok(source) => match experiment::load(&source) {
                Ok((experiment, warnings)) => {
                    problems.extend(warnings);
                    problems.extend(slips(&experiment)?);
                }
                Err(faults) => problems.extend(faults),
            },
        }
    }
    let failed = problems.iter().any(|problem| problem.level == Level::Error);
    if args.json {
        console.print(&format!("{:#}\n", report::json(&problems)));
        return if failed { Err(Stop::Input(Vec::new())) } else { Ok(()) };
    }
    if failed {
        return Err(Stop::Input(problems));
    }
    console.problems(&problems);
    let count = names.len();
    console.print(&format!("{count} {} checked, no errors\n", if count == 1 { "definition" } else { "definitions" }));
    Ok(())
}

/// Students whose keys are looked at.
const STUDENTS: u32 = 60;

/// Slips that some student's range would accept.
fn slips(experiment: &Experiment) -> Result<Problems, Problems> {
    let keys = (0..STUDENTS).filter_map(|student| {
        let student = student.to_string();
        let variant = variant::draw(experiment, "check", &student, Tuning::default()).ok()?;
        Key::build(experiment, &variant, &student).ok()
    });
    Ok(slip_warnings(experiment, &PlaceMap::read(&experiment.source)?, &keys.collect::<Vec<_>>()))
}

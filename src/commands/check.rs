//! `check`: everything that is wrong with definitions. In: files. Out: located problems, or a line that all is well.

use super::{Console, Stop, args};
use crate::{
    experiment::catalogue,
    report::{self, Level, Problems},
    review,
};

pub(super) fn run(args: &args::Check, console: &mut Console<'_>) -> Result<(), Stop> {
    let names = if args.files.is_empty() { catalogue::ids() } else { args.files.clone() };
    let mut problems: Problems = Vec::new();
    for name in &names {
        match catalogue::find(name) {
            Err(problem) => problems.push(problem),
            Ok(source) => match review::check(&source) {
                Ok((_, warnings)) => problems.extend(warnings),
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

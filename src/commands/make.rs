//! `make`: a class set. In: options. Out: a folder with worksheets, keys, grid, notes, form and record, whole or not at all.

use std::path::PathBuf;

use super::{
    Console, Stop,
    args::{self, FlavourWord, PaperWord},
    load,
};
use crate::{
    class::{self, Roster},
    experiment::Experiment,
    language::Language,
    press::{Paper, Standards},
    report::{Problem, Problems, nearest},
    set::{self, Folder, Member, Print, Printing, PrintingError, SetError, SetPlan},
};

pub(super) fn run(args: &args::Make, language: &'static Language, console: &mut Console<'_>) -> Result<(), Stop> {
    let experiment = load::experiment(&args.experiment, console)?;
    let (roster, notices) = match &args.class {
        Some(path) => class::read(path)?,
        None => (class::demo(), Vec::new()),
    };
    console.problems(&notices);
    let id = &experiment.definition.id;
    let seed = args.seed.clone().unwrap_or_else(|| format!("{id} {}", roster.name));
    let plan = SetPlan {
        experiment: &experiment,
        roster: &roster,
        seed: &seed,
        edition: args.edition.into(),
        language,
        names: !args.no_names,
    };
    let target = args.out.clone().unwrap_or_else(|| PathBuf::from("out").join(format!("{id}-{}", roster.name)));
    // Asked before the work is done, so that a refusal comes at once.
    let folder = Folder::stage(&target, args.force).map_err(|error| error.problem())?;
    let members = members(&plan, &args.only)?;
    console.problems(&plan.unprintable(&members));
    write(&plan, &members, args, &folder)?;
    folder.publish().map_err(|error| error.problem())?;
    let count = members.len();
    let sheets = if count == 1 { "sheet" } else { "sheets" };
    console.print(&format!("{count} {sheets} and keys in {} (seed: {seed})\n", target.display()));
    Ok(())
}

fn members<'a>(plan: &SetPlan<'a>, only: &[String]) -> Result<Vec<Member<'a>>, Stop> {
    let picks = |text: &str, id: &str, code: &str| {
        text == id || class::Code::parse(text).is_ok_and(|wanted| wanted.to_string() == code)
    };
    let wanted = |id: &str, code: &str| only.is_empty() || only.iter().any(|text| picks(text, id, code));
    let members = plan
        .members(|student, code| wanted(&student.id, code))
        .map_err(|errors| Stop::Input(errors.iter().map(|error| refused(plan.experiment, error)).collect()))?;
    let found = |text: &&String| members.iter().any(|member| picks(text, &member.student.id, &member.code));
    let missing: Problems = only.iter().filter(|text| !found(text)).map(|text| unknown(text, plan.roster)).collect();
    if missing.is_empty() { Ok(members) } else { Err(Stop::Input(missing)) }
}

fn unknown(text: &str, roster: &Roster) -> Problem {
    let problem = Problem::error(format!("no student of class `{}` has the id or code `{text}`", roster.name));
    match nearest(text, roster.students.iter().map(|student| student.id.as_str())) {
        Some(near) => problem.hint(format!("did you mean `{near}`?")),
        None => problem.hint("a code belongs to one class, experiment and seed"),
    }
}

fn refused(experiment: &Experiment, error: &SetError) -> Problem {
    match error {
        SetError::Draw(error) => error.problem(experiment),
        SetError::Key(error) => Problem::error(error.to_string()).hint("add a condition that keeps such readings out"),
    }
}

fn write(plan: &SetPlan<'_>, members: &[Member<'_>], args: &args::Make, folder: &Folder) -> Result<(), Stop> {
    let printing = Printing {
        paper: match args.paper {
            PaperWord::A4 => Paper::A4,
            PaperWord::Letter => Paper::Letter,
        },
        standards: match args.pdf {
            FlavourWord::Accessible => Standards::Accessible,
            FlavourWord::Plain => Standards::Plain,
        },
        split: args.split,
    };
    let print = Print::new(plan, members, printing).map_err(|error| Stop::Own(error.to_string()))?;
    let pages = print.run(|name, bytes| folder.write(name, bytes)).map_err(|error| match error {
        PrintingError::Disk(error) => Stop::from(error.problem()),
        PrintingError::Press { .. } => Stop::Own(error.to_string()),
    })?;
    let record = set::record(plan, members, &pages);
    let keep = |name: &str, bytes: &[u8]| folder.write(name, bytes).map_err(|error| Stop::from(error.problem()));
    keep("answers.csv", &set::answers_csv(plan, members))?;
    keep("set.json", format!("{record:#}\n").as_bytes())
}

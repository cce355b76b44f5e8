//! `make`: a class set. In: options. Out: a folder with worksheets, keys, grid, notes, form and record, whole or not at all.

use super::{
    Console, Stop,
    args::{self, FlavourWord, SortWord},
    basis::Basis,
    load, mark,
    progress::Progress,
    readings, warn,
};
use crate::{
    class::{self, Roster},
    experiment::Experiment,
    language::Language,
    press::{Binding, Fonts, Sides, Standards},
    report::{Place, Problem, Problems, nearest},
    set::{self, Draft, Folder, FolderError, Order, Print, Printing, PrintingError, Readings, SetError, SetPlan},
};

pub(super) fn run(args: &args::Make, language: &'static Language, console: &mut Console<'_>) -> Result<(), Stop> {
    let basis = Basis::of(args, console)?;
    let fonts = load::fonts(args.fonts.as_deref(), console)?;
    let taken = readings::taken(args, &basis, console)?;
    let plan = SetPlan {
        experiment: &basis.experiment,
        roster: &basis.roster,
        seed: &basis.seed,
        edition: args.edition.into(),
        language,
        names: basis.names,
        versions: basis.versions,
        limit: basis.limit,
        day: args.date,
        fonts: fonts.as_ref().unwrap_or(Fonts::shipped()),
        held: &basis.held,
        readings: taken.readings(),
        part: args.part,
        bench: basis.bench.as_deref(),
    };
    let marks = basis.target.join(mark::FOLDER);
    if args.extend.is_none() && basis.force && marks.is_dir() {
        let problem = Problem::error("the set has been marked: replacing it would lose the answers that were typed in");
        let problem = problem.at(Place::File(marks.display().to_string()));
        return Err(problem.hint("move this folder away, or choose another one for the new set with `--out`").into());
    }
    // Asked before the work is done, so that a refusal comes at once.
    let folder = Folder::stage(&basis.target, basis.force, set::RECORD).map_err(|error| error.problem())?;
    let draft = draft(&plan, &args.only)?;
    console.problems(&plan.unprintable(&draft.members));
    console.problems(&warn::draft(&plan, &draft));
    console.problems(&warn::changed(&plan, &draft.members, &basis.answers));
    write(&plan, &draft, args, &folder)?;
    if let Some((name, bytes)) = taken.file() {
        folder.write(&name, bytes).map_err(|error| error.problem())?;
    }
    // A set that is added to keeps its marks.
    for entry in std::fs::read_dir(&marks).into_iter().flatten().flatten() {
        let kept = std::fs::read(entry.path()).map_err(|error| {
            let problem = Problem::error(format!("the marks of the set can not be read: {error}"));
            problem.at(Place::File(entry.path().display().to_string()))
        })?;
        let name = format!("{}/{}", mark::FOLDER, entry.file_name().to_string_lossy());
        folder.write(&name, &kept).map_err(|error| error.problem())?;
    }
    folder.publish().map_err(|error| error.problem())?;
    let count = draft.members.len();
    let sheets = if count == 1 { "sheet" } else { "sheets" };
    let with = if args.blank { "a form for readings" } else { "keys" };
    console.print(&format!("{count} {sheets} and {with} in {} (seed: {})\n", basis.target.display(), basis.seed));
    Ok(())
}

pub(super) fn draft<'a>(plan: &SetPlan<'a>, only: &[String]) -> Result<Draft<'a>, Stop> {
    let picks = |text: &str, id: &str, code: &str| {
        text == id || class::Code::parse(text).is_ok_and(|wanted| wanted.to_string() == code)
    };
    let wanted = |id: &str, code: &str| only.is_empty() || only.iter().any(|text| picks(text, id, code));
    let draft = plan
        .draft(|student, code| wanted(&student.id, code))
        .map_err(|errors| Stop::Input(errors.iter().map(|error| refused(plan.experiment, error)).collect()))?;
    let found = |text: &&String| draft.members.iter().any(|member| picks(text, &member.student.id, &member.code));
    let missing: Problems = only.iter().filter(|text| !found(text)).map(|text| unknown(text, plan.roster)).collect();
    if missing.is_empty() { Ok(draft) } else { Err(Stop::Input(missing)) }
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

fn write(plan: &SetPlan<'_>, draft: &Draft<'_>, args: &args::Make, folder: &Folder) -> Result<(), Stop> {
    let members = &draft.members;
    let printing = Printing {
        paper: args.paper.into(),
        standards: match args.pdf {
            FlavourWord::Accessible => Standards::Accessible,
            FlavourWord::Plain => Standards::Plain,
        },
        split: args.split,
        binding: Binding { sides: if args.single_sided { Sides::One } else { Sides::Both }, equal: args.pad },
        order: match args.sort {
            None => Order::Set,
            Some(SortWord::Name) => Order::Name,
            Some(SortWord::Seat) => Order::Seat,
            Some(SortWord::Code) => Order::Code,
        },
    };
    let print = Print::new(plan, members, printing).map_err(|error| Stop::Own(error.to_string()))?;
    let disk = |error: FolderError| Stop::from(error.problem());
    let refused = |error| match error {
        PrintingError::Disk(error) => disk(error),
        PrintingError::Press { .. } => Stop::Own(error.to_string()),
    };
    let progress = Progress::of(members.len() * if args.split { 4 } else { 2 });
    let keep = |name: &str, bytes: &[u8], leaves: usize| {
        folder.write(name, bytes)?;
        progress.step(leaves);
        Ok(())
    };
    let pages = print.run(keep).map_err(refused)?;
    drop(progress);
    let keep = |name: &str, bytes: &[u8]| folder.write(name, bytes).map_err(disk);
    folder.fill("keys.txt", |out| print.text_keys(out)).map_err(disk)?;
    let own = |error: rust_xlsxwriter::XlsxError| Stop::Own(error.to_string());
    if plan.readings == Readings::Blank {
        keep("readings-form.csv", &set::readings_csv(plan))?;
        keep("readings-form.xlsx", &set::readings_xlsx(plan).map_err(own)?)?;
    } else {
        keep("answers.csv", &set::answers_csv(plan, members))?;
        keep("answers.xlsx", &set::answers_xlsx(plan, members).map_err(own)?)?;
    }
    folder.fill(set::RECORD, |out| set::record(plan, draft, &pages, out)).map_err(disk)
}

//! `mark`: marks for answers that were typed in. In: the folder of a set and the filled form. Out: marks beside the set, and a
//! summary on the terminal or as JSON.

use std::{collections::HashMap, path::Path};

use super::{Console, Stop, args, handed_back, make};
use crate::{
    language::Language,
    marking::{self, FilledForm, Marked},
    report::{Place, Problem},
    set::{self, Folder, Readings, Recorded, SetPlan},
};

/// The folder within the set, and the file by which it is known.
pub(super) const FOLDER: &str = "marked";
const MARKS: &str = "marks.csv";

pub(super) fn run(args: &args::Mark, language: &'static Language, console: &mut Console<'_>) -> Result<(), Stop> {
    let recorded = set::recorded(&args.set)?;
    let Recorded { experiment, seed, roster, versions, held, names, limit, source, .. } = &recorded;
    if *source == Readings::Blank.word() {
        let problem = Problem::error("the set is for a real run that has no readings yet");
        let problem = problem.at(Place::File(args.set.display().to_string()));
        return Err(problem.hint("type the readings in and make the set with `labquire make --measured FILE`").into());
    }
    let plan = SetPlan {
        names: *names,
        versions: *versions,
        limit: *limit,
        held,
        ..SetPlan::new(experiment, roster, seed, language)
    };
    let members = make::draft(&plan, &[])?.members;
    let FilledForm { rows, notices } = marking::filled(&args.answers, experiment, &members, language)?;
    console.problems(&notices);
    let form = FilledForm { rows, notices: Vec::new() };
    let mut marking = marking::mark(experiment, &members, &form);
    // As in the class file, which is the order of the record.
    let places: HashMap<&str, usize> =
        roster.students.iter().enumerate().map(|(place, student)| (student.id.as_str(), place)).collect();
    marking.students.sort_by_key(|student| places.get(members[student.student].student.id.as_str()).copied());
    let marked = Marked { experiment, members: &members, marking: &marking, language, names: *names };
    write(&plan, marked, args)?;
    if args.json {
        console.print(&format!("{:#}\n", marked.json()));
    } else {
        console.print(&summary(marked, &args.set.join(FOLDER)));
    }
    Ok(())
}

/// Writes the folder of marks as a whole; an earlier one is replaced.
fn write(plan: &SetPlan<'_>, marked: Marked<'_>, args: &args::Mark) -> Result<(), Stop> {
    let target = args.set.join(FOLDER);
    let folder = Folder::stage(&target, true, MARKS).map_err(|error| error.problem())?;
    let keep = |name: &str, bytes: &[u8]| folder.write(name, bytes).map_err(|error| Stop::from(error.problem()));
    keep(MARKS, &marked.csv())?;
    keep("marks.xlsx", &marked.xlsx().map_err(|error| Stop::Own(error.to_string()))?)?;
    for (name, bytes) in handed_back::feedback(plan, marked, args.paper.into())? {
        keep(&name, &bytes)?;
    }
    keep("report.pdf", &handed_back::report(plan, marked, args.paper.into())?)?;
    // The answers as they came, so that it stays clear what the marks were given for.
    let typed = std::fs::read(&args.answers).map_err(|error| {
        let problem = Problem::error(format!("the answers form can not be read again: {error}"));
        problem.at(Place::File(args.answers.display().to_string()))
    })?;
    let ending =
        args.answers.extension().map_or_else(|| "csv".into(), |ending| ending.to_string_lossy().to_lowercase());
    keep(&format!("typed.{ending}"), &typed)?;
    folder.publish().map_err(|error| Stop::from(error.problem()))
}

/// Marks of the class, a line a student.
fn summary(marked: Marked<'_>, folder: &Path) -> String {
    let rows: Vec<(&str, String)> = marked
        .marking
        .students
        .iter()
        .map(|student| {
            let fixed = if student.fixed.is_some() { " *" } else { "" };
            (marked.name(student), format!("{} / {}{fixed}", student.total(), student.out_of()))
        })
        .collect();
    let width = rows.iter().map(|(name, _)| name.chars().count()).max().unwrap_or(0);
    let mut text = String::new();
    for (name, total) in &rows {
        text.push_str(&format!("{name}{}  {total}\n", " ".repeat(width - name.chars().count())));
    }
    if marked.marking.students.iter().any(|student| student.fixed.is_some()) {
        text.push_str(&format!("* {}\n", marked.language.word("why-by-hand")));
    }
    let again = marked.marking.look_again.len();
    if again > 0 {
        text.push_str(&format!("{} {again} (report.pdf)\n", marked.language.heading("look-again")));
    }
    let count = rows.len();
    let students = if count == 1 { "student" } else { "students" };
    text.push_str(&format!("marks of {count} {students} in {}\n", folder.display()));
    text
}

//! `audit`: how different, how fair, how copy-safe the sheets are. In: an experiment and a class, or a set. Out: a report on the
//! terminal or as JSON, and a PDF.

use std::{
    collections::{BTreeMap, HashMap},
    path::Path,
};

use super::{Console, Stop, args, load, make, one_file};
use crate::{
    audit::Audit,
    compose,
    experiment::catalogue,
    language::Language,
    press::{Documents, PdfJob, Press, Standards},
    report::{Place, Problem, Problems},
    set::{self, Readings, Recorded, SetPlan},
    sheet::{AuditEdition, AuditPage},
};

pub(super) fn run(args: &args::Audit, language: &'static Language, console: &mut Console<'_>) -> Result<(), Stop> {
    let folder = Path::new(&args.subject);
    // A catalogue id comes before a folder of that name, which can be called `./pumped-loop`.
    let of_set = folder.is_dir() && !catalogue::ids().contains(&args.subject);
    let recorded = if of_set { printed(args, folder)? } else { fresh(args, console)? };
    let plan = SetPlan {
        edition: args.edition.into(),
        names: recorded.names,
        versions: recorded.versions,
        limit: recorded.limit,
        held: &recorded.held,
        ..SetPlan::new(&recorded.experiment, &recorded.roster, &recorded.seed, language)
    };
    let draft = make::draft(&plan, &[])?;
    let audit = Audit::of(&plan, &draft);
    let page = compose::audit(&recorded.experiment, &audit, language);
    let name = format!("{}-{}-audit.pdf", recorded.experiment.definition.id, recorded.roster.name);
    let place = || if of_set { folder.join("audit.pdf") } else { Path::new("out").join(name) };
    let target = args.out.clone().unwrap_or_else(place);
    print(&page, args, &target)?;
    if args.json {
        let report = serde_json::to_string_pretty(&audit).map_err(|error| Stop::Own(error.to_string()))?;
        console.print(&format!("{report}\n"));
    } else {
        console.print(&text(&page));
    }
    console.note(&format!("pages with pictures in {}", target.display()));
    Ok(())
}

/// A set that is printed already.
fn printed(args: &args::Audit, folder: &Path) -> Result<Recorded, Stop> {
    let own =
        [("--class", args.class.is_some()), ("--seed", args.seed.is_some()), ("--versions", args.versions.is_some())];
    let given = own.into_iter().filter(|(_, given)| *given);
    let problems: Problems = given
        .map(|(option, _)| Problem::error(format!("`{option}` does not go with a printed set, which has its own")))
        .map(|problem| problem.hint("name an experiment in place of the folder, or leave the option out"))
        .collect();
    if !problems.is_empty() {
        return Err(problems.into());
    }
    let mut recorded = set::recorded(folder)?;
    if recorded.source != Readings::Drawn.word() {
        let problem = Problem::error("the readings of this set are not drawn: groups share what they read");
        return Err(problem.at(Place::File(folder.display().to_string())).hint("audit a set that was drawn").into());
    }
    recorded.limit = args.copied.unwrap_or(recorded.limit);
    Ok(recorded)
}

/// A set as it would be made.
fn fresh(args: &args::Audit, console: &mut Console<'_>) -> Result<Recorded, Stop> {
    let experiment = load::experiment(&args.subject, console)?;
    let roster = load::class(args.class.as_deref(), console)?;
    Ok(Recorded {
        seed: args.seed.clone().unwrap_or_else(|| format!("{} {}", experiment.definition.id, roster.name)),
        experiment,
        roster,
        versions: args.versions.and_then(args::Versions::shared),
        held: BTreeMap::new(),
        names: true,
        limit: args.copied.unwrap_or_default(),
        answers: HashMap::new(),
        source: Readings::Drawn.word().to_owned(),
        bench: None,
    })
}

/// Writes the PDF whole or not at all.
fn print(page: &AuditPage, args: &args::Audit, target: &Path) -> Result<(), Stop> {
    let own = |error: crate::press::PressError| Stop::Own(error.to_string());
    let source = Documents::new().and_then(|documents| documents.audit(page, args.paper.into())).map_err(own)?;
    let job = PdfJob { ident: format!("audit {} {}", page.title, page.about), standards: Standards::Accessible };
    let printed = Press::new().pdf(source, &job).map_err(own)?;
    one_file::keep(target, &printed.bytes, "report")
}

/// The report for a terminal.
fn text(page: &AuditPage) -> String {
    let mut lines = vec![page.title.clone(), page.about.clone(), String::new()];
    lines.extend(page.verdicts.iter().cloned());
    for edition in &page.editions {
        lines.extend([String::new(), edition.heading.clone()]);
        lines.extend(edition.lines.iter().map(|line| format!("  {line}")));
        lines.extend(table(edition));
    }
    lines.push(String::new());
    lines.extend(page.draws.iter().cloned());
    lines.join("\n") + "\n"
}

/// The table of tasks in aligned columns.
fn table(edition: &AuditEdition) -> Vec<String> {
    let rows: Vec<&Vec<String>> = std::iter::once(&edition.heads).chain(&edition.rows).collect();
    let width = |column: usize| rows.iter().map(|row| row[column].chars().count()).max().unwrap_or_default();
    let widths: Vec<usize> = (0..edition.heads.len()).map(width).collect();
    let line = |row: &&Vec<String>| {
        let cells = row.iter().zip(&widths).map(|(cell, &width)| format!("{cell:<width$}"));
        format!("  {}", cells.collect::<Vec<_>>().join("  ")).trim_end().to_owned()
    };
    rows.iter().map(line).collect()
}

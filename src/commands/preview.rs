//! `preview`: a look at one sheet and its key. In: options. Out: a folder of PNG pages, whole or not at all.

use std::path::PathBuf;

use super::{Console, Stop, args, load, make};
use crate::{
    class::{Roster, Student},
    language::Language,
    press::{Fonts, PressError},
    set::{Folder, Print, Printing, SetPlan},
};

/// What tells a folder of pictures from others, so that it may be replaced.
const MARK: &str = "preview.txt";

pub(super) fn run(args: &args::Preview, language: &'static Language, console: &mut Console<'_>) -> Result<(), Stop> {
    let experiment = load::experiment(&args.experiment, console)?;
    let id = &experiment.definition.id;
    let student = Student {
        id: "1".to_owned(),
        name: "N. N.".to_owned(),
        edition: Some(args.edition.into()),
        seat: None,
        group: None,
        lang: None,
        large: args.large,
    };
    let roster = Roster { name: "preview".to_owned(), students: vec![student] };
    let own = load::fonts(args.fonts.as_deref(), console)?;
    let fonts = own.as_ref().unwrap_or(Fonts::shipped());
    let plan = SetPlan { names: false, fonts, ..SetPlan::new(&experiment, &roster, &args.seed, language) };
    let target = args.out.clone().unwrap_or_else(|| PathBuf::from("out").join(format!("{id}-preview")));
    let folder = Folder::stage(&target, args.force, MARK).map_err(|error| error.problem())?;
    let members = make::draft(&plan, &[])?.members;
    let printing = Printing { paper: args.paper.into(), ..Printing::default() };
    let refused = |error: PressError| Stop::Own(error.to_string());
    let [sheet, key] =
        Print::new(&plan, &members, printing).map_err(refused)?.pictures(0, f64::from(args.dpi)).map_err(refused)?;
    let mut names = Vec::new();
    for (stem, pages) in [("worksheet", sheet), ("key", key)] {
        for (place, page) in pages.iter().enumerate() {
            names.push(format!("{stem}-{}.png", place + 1));
            folder.write(&names[names.len() - 1], page).map_err(|error| error.problem())?;
        }
    }
    let note = format!("{id}, {} edition, seed {}\n{}\n", members[0].edition.word(), args.seed, names.join("\n"));
    folder.write(MARK, note.as_bytes()).map_err(|error| error.problem())?;
    folder.publish().map_err(|error| error.problem())?;
    console.print(&format!("{} pages in {}\n", names.len(), target.display()));
    Ok(())
}

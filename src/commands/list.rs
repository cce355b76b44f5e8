//! `list`: the catalogue. In: options. Out: a line an experiment, or JSON.

use serde_json::json;

use super::{Console, Stop, args};
use crate::{
    experiment::{self, Entry},
    language::Language,
};

pub(super) fn run(args: &args::List, language: &'static Language, console: &mut Console<'_>) -> Result<(), Stop> {
    let rows = experiment::entries()?;
    let levels = |entry: &Entry| -> Vec<&str> { entry.levels.iter().map(|level| level.word()).collect() };
    if args.json {
        let list: Vec<_> = rows
            .iter()
            .map(|row| {
                json!({
                    "id": row.id,
                    "title": row.title.in_language(&language.code),
                    "bench": row.bench,
                    "levels": levels(row),
                    "minutes": row.minutes,
                })
            })
            .collect();
        console.print(&format!("{:#}\n", json!(list)));
        return Ok(());
    }
    let width = rows.iter().map(|row| row.id.chars().count()).max().unwrap_or(0);
    for row in &rows {
        let title = row.title.in_language(&language.code);
        console.print(&format!(
            "{:width$}  {title} ({}; {} min; bench {})\n",
            row.id,
            levels(row).join(", "),
            row.minutes,
            row.bench
        ));
    }
    Ok(())
}

//! A file of readings. In: a path and an experiment. Out: its runs, with notices; or everything that keeps it from being read.
//! It must judge no reading by physics.
//!
//! A form, a spreadsheet and a logger's file are read alike: the first row that heads a column for the schedule and one for
//! readings is the head; what stands above it may note quantities, as `m; 150 g` or `m = 150 g`. A workbook is read with all its
//! sheets, each a run of its own unless a column says whose it is.

use std::path::Path;

use super::{
    MeasuredRun, Role, Sought,
    columns::{self, Target, is_head},
    number::{Found, reading},
    rows::RowReader,
    sought,
};
use crate::{
    experiment::Experiment,
    quantity::Unit,
    report::{Level, Place, Problem, Problems},
    table::{self, Cell, Purpose, Row, Table},
    variant::Stated,
};

const PURPOSE: Purpose = Purpose { file: "readings file", content: "readings" };
/// Rows among which the head is looked for.
const HEAD_WITHIN: usize = 100;

/// What a file of readings holds.
#[derive(Debug, Clone, PartialEq)]
pub struct MeasuredFile {
    /// The runs, in the file's order.
    pub runs: Vec<MeasuredRun>,
    /// What was noticed, warnings among it.
    pub notices: Problems,
}

/// Reads a file of readings; `start` is when the run began in the file's own time, in the schedule's unit.
///
/// # Errors
/// Everything that keeps the file from being used: no head, no unit of the kind, columns that are swapped, runs without rows.
pub fn read(path: &Path, experiment: &Experiment, start: Option<f64>) -> Result<MeasuredFile, Problems> {
    let sought = sought(experiment);
    let mut problems = Problems::new();
    let mut runs: Vec<MeasuredRun> = Vec::new();
    let tables = table::read_all(path, PURPOSE).map_err(|problem| vec![problem])?;
    let several = tables.len() > 1;
    for Table { sheet, rows, problems: noticed } in tables {
        problems.extend(noticed);
        let Some(head) = rows.iter().take(HEAD_WITHIN).position(|row| is_head(row, &sought)) else {
            continue;
        };
        let found = columns::columns(&rows[head], &sought, &mut problems);
        if let Some(problem) = missing(&rows[head], &found, &sought) {
            problems.push(problem);
            continue;
        }
        let told = noted_above(&rows[..head], &sought);
        let mut reader = RowReader {
            experiment,
            sought: &sought,
            columns: &found,
            told: &told,
            start,
            problems: Problems::new(),
            useless: 0,
        };
        let name = sheet.filter(|_| several).unwrap_or_default();
        let found = reader.runs(&rows[head + 1..], &name);
        problems.append(&mut reader.problems);
        for run in found {
            if let Some(before) = runs.iter().find(|before| before.who == run.who) {
                let problem = Problem::error(format!("the run of `{}` stands twice in the file", run.who));
                let problem = problem.at(run.place).label("the second").also(before.place.clone(), "the first");
                problems.push(problem.hint("give each run a group of its own"));
            } else {
                runs.push(run);
            }
        }
    }
    let failed = problems.iter().any(|problem| problem.level == Level::Error);
    if runs.is_empty() && !failed {
        let heads: Vec<String> = sought.iter().filter(|one| one.role != Role::Once).map(Sought::head).collect();
        let problem =
            Problem::error("no readings of this experiment were found").at(Place::File(path.display().to_string()));
        problems.push(problem.hint(format!("a row must head the columns, such as: {}", heads.join(", "))));
    }
    match failed || runs.is_empty() {
        true => Err(problems),
        false => Ok(MeasuredFile { runs, notices: problems }),
    }
}

/// Readings without a column.
fn missing(head: &Row, found: &columns::Columns, sought: &[Sought<'_>]) -> Option<Problem> {
    let lacking: Vec<String> = sought
        .iter()
        .enumerate()
        .filter(|(place, one)| one.role != Role::Once && found.of(Target::Sought(*place)).is_none())
        .map(|(_, one)| format!("`{}`", one.head()))
        .collect();
    if lacking.is_empty() {
        return None;
    }
    let problem = Problem::error(format!("no column holds {}", lacking.join(", ")));
    let place = head.iter().find(|cell| !cell.text.is_empty())?.place.clone();
    Some(
        problem.at(place).label("in this row of heads").hint("head the column so; its unit may be another of its kind"),
    )
}

/// Quantities that are noted above the head: name and number in two cells, or in one with `=` or `:` between them.
fn noted_above(rows: &[Row], sought: &[Sought<'_>]) -> Vec<Stated> {
    let pairs = rows.iter().filter_map(|row| {
        let mut cells = row.iter().filter(|cell| !cell.text.is_empty());
        let (first, second) = (cells.next()?, cells.next());
        match second {
            Some(second) => Some((
                Cell { text: first.text.trim_end_matches([':', '=']).to_owned(), ..first.clone() },
                second.clone(),
            )),
            None => {
                let (name, value) = first.text.split_once('=').or_else(|| first.text.split_once(':'))?;
                let part = |text: &str| Cell { text: text.trim().to_owned(), ..first.clone() };
                Some((part(name), part(value)))
            }
        }
    });
    pairs
        .filter_map(|(name, value)| {
            let columns = columns::columns(&vec![name], sought, &mut Problems::new());
            let slot = columns.0.first()?;
            let Target::Sought(place) = slot.target else { return None };
            stated(&value, &slot.unit, &sought[place])
        })
        .collect()
}

/// A quantity that is noted once.
fn stated(cell: &Cell, unit: &Unit, sought: &Sought<'_>) -> Option<Stated> {
    match reading(cell, unit, sought) {
        Found::Reading(found) if sought.role == Role::Once => Some(found.stated(sought)),
        _ => None,
    }
}

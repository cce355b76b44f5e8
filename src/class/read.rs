//! The class file. In: a path. Out: a checked class, or everything that is wrong with the file.
//! It must split no row itself and draw no conclusion from a cell.

use std::path::Path;

use super::{
    Roster, Student,
    row_reader::{COLUMNS, RowReader},
};
use crate::{
    report::{Level, Place, Problem, Problems, Source},
    table::{self, Purpose, Table},
};

/// What the file is called in messages.
const PURPOSE: Purpose = Purpose { file: "class file", content: "class list" };

/// Reads a class file.
///
/// # Errors
/// Everything that is wrong with it. Notices travel with success.
pub fn read(path: &Path) -> Result<(Roster, Problems), Problems> {
    let name = path.file_stem().map_or_else(|| "class".to_owned(), |stem| stem.to_string_lossy().into_owned());
    let table = table::read(path, PURPOSE).map_err(|problem| vec![problem])?;
    from_table(name, table, &path.display().to_string())
}

/// The built-in class of an invented school.
pub fn demo() -> Roster {
    let source = Source::new("demo-class.csv", include_str!("../../experiments/demo-class.csv"));
    match from_table("demo".to_owned(), table::rows(&source), &source.name) {
        Ok((roster, _)) => roster,
        Err(_) => Roster { name: "demo".to_owned(), students: Vec::new() },
    }
}

fn from_table(name: String, table: Table, file: &str) -> Result<(Roster, Problems), Problems> {
    let Table { rows, mut problems, .. } = table;
    let split = problems.iter().any(|problem| problem.level == Level::Error);
    let Some((head, body)) = rows.split_first() else {
        if !split {
            let empty = Problem::error("the class file is empty").at(Place::File(file.to_owned()));
            let hint = format!("its first line names the columns: {}", COLUMNS.join(", "));
            problems.push(empty.hint(hint));
        }
        return Err(problems);
    };
    let mut reader = RowReader::new(head, problems);
    let students: Vec<Student> = body.iter().filter_map(|row| reader.student(row)).collect();
    if body.is_empty() && !split {
        let problem = Problem::error("the class file has no students");
        reader.at_header(problem.hint("write one line for each student below the header"));
    }
    if reader.problems.iter().any(|problem| problem.level == Level::Error) {
        return Err(reader.problems);
    }
    Ok((Roster { name, students }, reader.problems))
}

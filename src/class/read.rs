//! The class file. In: rows of cells. Out: a checked class, or everything that is wrong with the file.
//! It must keep every name as it stands, and keep unknown columns out.

use std::{
    collections::{HashMap, HashSet},
    path::Path,
};

use super::{
    Edition, Roster, Seat, Student,
    sheet_file::{self, Cell, Row},
};
use crate::{
    language::Language,
    report::{Level, Problem, Problems, Source, nearest},
};

const COLUMNS: [&str; 7] = ["id", "name", "edition", "seat", "group", "lang", "print"];

/// Reads a class file.
///
/// # Errors
/// Everything that is wrong with it. Notices travel with success.
pub fn read(path: &Path) -> Result<(Roster, Problems), Problems> {
    let name = path.file_stem().map_or_else(|| "class".to_owned(), |stem| stem.to_string_lossy().into_owned());
    let rows = sheet_file::rows(path).map_err(|problem| vec![problem])?;
    from_rows(name, &rows, &path.display().to_string())
}

/// The built-in class of an invented school.
pub fn demo() -> Roster {
    let source = Source::new("demo-class.csv", include_str!("../../experiments/demo-class.csv"));
    let rows = sheet_file::csv_rows(&source).unwrap_or_default();
    match from_rows("demo".to_owned(), &rows, "demo-class.csv") {
        Ok((roster, _)) => roster,
        Err(_) => Roster { name: "demo".to_owned(), students: Vec::new() },
    }
}

fn from_rows(name: String, rows: &[Row], file: &str) -> Result<(Roster, Problems), Problems> {
    let Some((head, body)) = rows.split_first() else {
        let empty = Problem::error("the class file is empty").at(crate::report::Place::File(file.to_owned()));
        return Err(vec![empty.hint("its first line names the columns: id, name, edition, seat, group, lang, print")]);
    };
    let mut reader =
        RowReader { columns: HashMap::new(), problems: Vec::new(), ids: HashMap::new(), seats: HashSet::new() };
    reader.header(head);
    let students: Vec<Student> = body.iter().filter_map(|row| reader.student(row, head)).collect();
    if body.is_empty() {
        let last = head.first().map(|cell| cell.place.clone());
        let problem =
            Problem::error("the class file has no students").hint("write one line for each student below the header");
        reader.problems.push(Problem { place: last, ..problem });
    }
    if reader.problems.iter().any(|problem| problem.level == Level::Error) {
        return Err(reader.problems);
    }
    Ok((Roster { name, students }, reader.problems))
}

struct RowReader {
    columns: HashMap<&'static str, usize>,
    problems: Problems,
    /// Ids with the place of their row.
    ids: HashMap<String, String>,
    seats: HashSet<Seat>,
}

impl RowReader {
    fn header(&mut self, head: &[Cell]) {
        for (index, cell) in head.iter().enumerate() {
            let title = cell.text.trim_start_matches('\u{FEFF}').to_lowercase();
            match COLUMNS.iter().find(|column| **column == title) {
                Some(column) if self.columns.contains_key(column) => {
                    let problem = Problem::error(format!("the column `{column}` stands twice in the header"));
                    self.problems
                        .push(problem.at(cell.place.clone()).label("given before").hint("keep one of the two"));
                }
                Some(column) => {
                    self.columns.insert(column, index);
                }
                None if title.is_empty() => {}
                None => {
                    let problem = Problem::notice(format!("the column `{}` is kept out", cell.text));
                    let near = nearest(&title, COLUMNS);
                    let hint = near.map_or_else(
                        || format!("columns that are read: {}", COLUMNS.join(", ")),
                        |near| format!("did you mean `{near}`?"),
                    );
                    self.problems.push(problem.at(cell.place.clone()).label("not read").hint(hint));
                }
            }
        }
        if !self.columns.contains_key("name") {
            let found: Vec<&str> = head.iter().map(|cell| cell.text.as_str()).collect();
            let problem =
                Problem::error("the class file has no column `name`").label(format!("found {}", found.join(", ")));
            let place = head.first().map(|cell| cell.place.clone());
            self.problems.push(
                Problem { place, ..problem }.hint("the first line names the columns, such as `id;name;edition;seat`"),
            );
        }
    }

    fn cell<'r>(&self, row: &'r [Cell], column: &str) -> Option<&'r Cell> {
        row.get(*self.columns.get(column)?).filter(|cell| !cell.text.is_empty())
    }

    fn wrong(&mut self, cell: &Cell, what: &str, label: &str, hint: String) {
        let problem = Problem::error(format!("{what} `{}`", cell.text)).at(cell.place.clone()).label(label);
        self.problems.push(problem.hint(hint));
    }

    fn student(&mut self, row: &Row, head: &Row) -> Option<Student> {
        if let Some(extra) = row.get(head.len()..).and_then(|rest| rest.iter().find(|cell| !cell.text.is_empty())) {
            let hint = "put quotes around a name that holds the delimiter".to_owned();
            self.wrong(extra, "a cell without a column", "more cells than the header has", hint);
        }
        let name = self.name(row);
        if let Some(id) = self.cell(row, "id").or_else(|| self.cell(row, "name")) {
            self.id(id, self.columns.contains_key("id"));
        }
        let edition = self.cell(row, "edition").and_then(|cell| self.edition(cell));
        let seat = self.cell(row, "seat").and_then(|cell| self.seat(cell));
        let lang = self.cell(row, "lang").and_then(|cell| self.lang(cell));
        let large = self.cell(row, "print").is_some_and(|cell| self.print(cell));
        let group = self.cell(row, "group").map(|cell| cell.text.clone());
        let name = name?;
        let id = self.cell(row, "id").map_or_else(|| name.clone(), |cell| cell.text.clone());
        Some(Student { id, name, edition, seat, group, lang, large })
    }

    fn name(&mut self, row: &Row) -> Option<String> {
        let index = *self.columns.get("name")?;
        let Some(cell) = self.cell(row, "name") else {
            let place = row.get(index).or(row.last())?.place.clone();
            let problem = Problem::error("the name is empty").at(place).label("expected a name");
            self.problems.push(problem.hint("write a name or a number, or delete the line"));
            return None;
        };
        if cell.text.chars().any(char::is_control) {
            self.wrong(cell, "a control character in", "not printable", "type the name again".to_owned());
        }
        Some(cell.text.clone())
    }

    fn id(&mut self, cell: &Cell, has_ids: bool) {
        let here = match &cell.place {
            crate::report::Place::Text(source, span) => format!("line {}", source.line_column(span.start).0),
            crate::report::Place::Cell(_, _, address) => format!("cell {address}"),
            crate::report::Place::File(file) => file.clone(),
        };
        if let Some(before) = self.ids.insert(cell.text.clone(), here) {
            let hint = if has_ids {
                format!("it stands in {before} already: give each student an id of their own")
            } else {
                format!("it stands in {before} already: add a column `id` that tells the two apart")
            };
            self.wrong(cell, "a second student with the id", "given before", hint);
        }
    }

    fn edition(&mut self, cell: &Cell) -> Option<Edition> {
        let found = Edition::from_word(&cell.text);
        if found.is_none() {
            let words = Edition::ALL.map(Edition::word);
            let hint = nearest(&cell.text, words)
                .map_or_else(|| "leave it empty for the default".to_owned(), |near| format!("did you mean `{near}`?"));
            self.wrong(cell, "unknown edition", "expected `support`, `core` or `extension`", hint);
        }
        found
    }

    fn seat(&mut self, cell: &Cell) -> Option<Seat> {
        let Some(seat) = Seat::parse(&cell.text) else {
            self.wrong(cell, "no seat", "expected a row letter and a number", "write seats such as `B4`".to_owned());
            return None;
        };
        if !self.seats.insert(seat) {
            self.wrong(
                cell,
                "a second student on seat",
                "taken before",
                "give each student a seat of their own".to_owned(),
            );
        }
        Some(seat)
    }

    fn lang(&mut self, cell: &Cell) -> Option<String> {
        if let Some(language) = Language::find(&cell.text) {
            return Some(language.code.clone());
        }
        let known: Vec<&str> = Language::all().iter().map(|language| language.code.as_str()).collect();
        self.wrong(cell, "unknown language", "no such language", format!("known are {}", known.join(", ")));
        None
    }

    fn print(&mut self, cell: &Cell) -> bool {
        match cell.text.to_lowercase().as_str() {
            "large" => return true,
            "normal" => {}
            _ => self.wrong(
                cell,
                "unknown print",
                "expected `normal` or `large`",
                "leave it empty for normal print".to_owned(),
            ),
        }
        false
    }
}

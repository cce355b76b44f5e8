//! What the cells of a class file mean. In: a header, then rows. Out: students, and every problem with its place.
//! It must keep every name as it stands, and keep unknown columns out.

use std::collections::HashMap;

use super::{Edition, Seat, Student};
use crate::{
    language::Language,
    report::{Place, Problem, Problems, nearest},
    table::{Cell, Row},
};

/// The columns that are read.
pub(super) const COLUMNS: [&str; 7] = ["id", "name", "edition", "seat", "group", "lang", "print"];

/// Reads row after row, and gathers what is wrong with them.
pub(super) struct RowReader<'t> {
    head: &'t [Cell],
    columns: HashMap<&'static str, usize>,
    /// Everything found wrong or worth a notice so far.
    pub(super) problems: Problems,
    /// Ids with the place where each stood first.
    ids: HashMap<String, Place>,
    /// Seats with the place where each was taken first.
    seats: HashMap<Seat, Place>,
}

impl<'t> RowReader<'t> {
    /// A reader of the rows below a header; `problems` are those found so far.
    pub(super) fn new(head: &'t [Cell], problems: Problems) -> Self {
        let mut reader = Self { head, columns: HashMap::new(), problems, ids: HashMap::new(), seats: HashMap::new() };
        reader.header();
        reader
    }

    fn header(&mut self) {
        for (index, cell) in self.head.iter().enumerate() {
            let title = cell.text.to_lowercase();
            match COLUMNS.iter().find(|column| **column == title) {
                Some(column) if self.columns.contains_key(column) => {
                    let problem = Problem::error(format!("the column `{column}` stands twice in the header"));
                    let problem = problem.at(cell.place.clone()).label("given before");
                    let first = self.head[self.columns[column]].place.clone();
                    self.problems.push(problem.also(first, "the first").hint("keep one of the two"));
                }
                Some(column) => {
                    self.columns.insert(column, index);
                }
                None if title.is_empty() => {}
                None => {
                    let problem = Problem::notice(format!("the column `{}` is kept out", shown(&cell.text)));
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
            let found: Vec<&str> = self.head.iter().map(|cell| shown(&cell.text)).collect();
            let problem =
                Problem::error("the class file has no column `name`").label(format!("found {}", found.join(", ")));
            self.at_header(problem.hint("the first line names the columns, such as `id;name;edition;seat`"));
        }
    }

    /// Keeps a problem of the whole file, placed at the header's first title.
    pub(super) fn at_header(&mut self, problem: Problem) {
        let place = self.head.iter().find(|cell| !cell.text.is_empty()).map(|cell| cell.place.clone());
        self.problems.push(Problem { place, ..problem });
    }

    fn cell<'r>(&self, row: &'r [Cell], column: &str) -> Option<&'r Cell> {
        row.get(*self.columns.get(column)?).filter(|cell| !cell.text.is_empty())
    }

    fn wrong(&mut self, cell: &Cell, what: &str, label: &str, hint: String) {
        let problem = Problem::error(format!("{what} `{}`", shown(&cell.text))).at(cell.place.clone()).label(label);
        self.problems.push(problem.hint(hint));
    }

    /// Refuses what can't be printed: line ends and other control characters, and what stands for a lost letter.
    fn legible(&mut self, cell: &Cell) {
        if let Some(sign) = cell.text.chars().find(|&sign| illegible(sign)) {
            let (what, hint) = match sign {
                '\n' | '\r' => ("a line end in", "write it on one line; if it runs on, check the quotes around it"),
                char::REPLACEMENT_CHARACTER => ("a lost letter in", "type it again, and save the file as UTF-8"),
                _ => ("a control character in", "type it again"),
            };
            self.wrong(cell, what, "can not be printed", hint.to_owned());
        }
    }

    /// The student of a row, if it has a name.
    pub(super) fn student(&mut self, row: &Row) -> Option<Student> {
        let titled = |column: usize| self.head.get(column).is_some_and(|title| !title.text.is_empty());
        let extra = row.iter().enumerate().find(|&(column, cell)| !cell.text.is_empty() && !titled(column));
        if let Some((_, extra)) = extra {
            let hint = "give the column a title, or put quotes around a name that holds the delimiter".to_owned();
            self.wrong(extra, "a cell without a column", "no title above it", hint);
        }
        for column in ["id", "name", "group"] {
            if let Some(cell) = self.cell(row, column) {
                self.legible(cell);
            }
        }
        let name = self.name(row);
        match self.cell(row, "id") {
            Some(cell) => self.first(cell, "id", "give each student an id of their own"),
            None => {
                if let Some(cell) = self.cell(row, "name") {
                    self.first(cell, "name", "give each student an `id` that tells the two apart");
                }
            }
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
        Some(cell.text.clone())
    }

    /// Keeps what tells a student from all others; refused where another has it already.
    fn first(&mut self, cell: &Cell, what: &str, hint: &str) {
        let Some(before) = self.ids.get(&cell.text).cloned() else {
            self.ids.insert(cell.text.clone(), cell.place.clone());
            return;
        };
        self.second(cell, &format!("a second student with the {what}"), before, hint);
    }

    fn second(&mut self, cell: &Cell, what: &str, before: Place, hint: &str) {
        let problem = Problem::error(format!("{what} `{}`, after {}", shown(&cell.text), words(&before)));
        let problem = problem.at(cell.place.clone()).label("the second").also(before, "the first");
        self.problems.push(problem.hint(hint));
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
        match self.seats.get(&seat).cloned() {
            Some(before) => {
                self.second(cell, "a second student on seat", before, "give each student a seat of their own")
            }
            None => {
                self.seats.insert(seat, cell.place.clone());
            }
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

/// A place in words, short.
fn words(place: &Place) -> String {
    match place {
        Place::Text(source, span) => format!("line {}", source.line_column(span.start).0),
        Place::Cell(_, _, address) => format!("cell {address}"),
        Place::File(file) => file.clone(),
    }
}

/// As much of a cell as a message can show: its first line, up to a sign that can't be printed.
fn shown(text: &str) -> &str {
    text.split(illegible).find(|part| !part.is_empty()).unwrap_or_default()
}

fn illegible(sign: char) -> bool {
    sign.is_control() || sign == char::REPLACEMENT_CHARACTER
}

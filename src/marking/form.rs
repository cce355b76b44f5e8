//! The form with answers typed in. In: its file and the members of the set. Out: a row for each student who is in it, or
//! everything that can't be read. It must mark nothing.

use std::{collections::HashMap, path::Path};

use super::entry::{self, Entry, Unreadable};
use crate::{
    class::Code,
    experiment::{
        Experiment,
        plan::{TaskBody, TaskPlan},
    },
    language::Language,
    report::{Place, Problem, Problems, nearest},
    set::{Member, Own},
    table::{self, Cell, CellKind, Purpose, Row},
};

const PURPOSE: Purpose = Purpose { file: "answers form", content: "answers form" };
/// Columns beside the tasks.
const CODE: &str = "code";
const OVERRIDE: &str = "override";
const REASON: &str = "reason";

/// What was typed in.
#[derive(Debug, Clone, PartialEq)]
pub struct FilledForm {
    /// A row for each student who is in the form, in the form's order.
    pub rows: Vec<FilledRow>,
    /// What was noticed.
    pub notices: Problems,
}

/// What was typed in for a student.
#[derive(Debug, Clone, PartialEq)]
pub struct FilledRow {
    /// The student's place among the members.
    pub student: usize,
    /// The place of the member whose sheet it is: another's where a code says so.
    pub sheet: usize,
    /// An entry for each task of the experiment.
    pub entries: Vec<Entry>,
    /// A total set by hand.
    pub fixed: Option<Override>,
}

/// A total set by hand.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Override {
    /// The marks.
    pub marks: u32,
    /// Why.
    pub reason: String,
}

/// Reads a form for the members of a set; numbers are read as a language writes them.
///
/// # Errors
/// Every cell that can't be read, with its place. Nothing is left out in silence.
pub fn filled(
    path: &Path,
    experiment: &Experiment,
    members: &[Member<'_>],
    language: &Language,
) -> Result<FilledForm, Problems> {
    let table = table::read(path, PURPOSE).map_err(|problem| vec![problem])?;
    let mut rows = table.rows.into_iter();
    let Some(head) = rows.next() else {
        let problem = Problem::error("the answers form is empty").at(Place::File(path.display().to_string()));
        return Err(vec![problem.hint("its first line names the columns: id, name, and the tasks")]);
    };
    let mut reader = Reader {
        experiment,
        members,
        language,
        columns: HashMap::new(),
        errors: Vec::new(),
        notices: table.problems,
        seen: HashMap::new(),
    };
    reader.header(&head);
    if !reader.errors.is_empty() {
        return Err(reader.errors);
    }
    let rows: Vec<FilledRow> = rows.filter_map(|row| reader.row(&row)).collect();
    for (place, member) in members.iter().enumerate() {
        if !reader.seen.contains_key(&place) {
            let problem = Problem::notice(format!("student `{}` is not in the form", member.student.id));
            reader.notices.push(problem.hint("they get no marks; add a row for them if they took part"));
        }
    }
    if reader.errors.is_empty() { Ok(FilledForm { rows, notices: reader.notices }) } else { Err(reader.errors) }
}

struct Reader<'a> {
    experiment: &'a Experiment,
    members: &'a [Member<'a>],
    language: &'a Language,
    /// Where each column stands.
    columns: HashMap<String, usize>,
    errors: Problems,
    notices: Problems,
    /// Students with the place of their row.
    seen: HashMap<usize, Place>,
}

impl Reader<'_> {
    fn header(&mut self, head: &Row) {
        let tasks: Vec<&str> = self.experiment.tasks.iter().map(|task| task.id.as_str()).collect();
        let known: Vec<&str> =
            ["id", "name", CODE, OVERRIDE, REASON].into_iter().chain(tasks.iter().copied()).collect();
        for (place, cell) in head.iter().enumerate() {
            // A unit may stand behind the task, as in `heat / kJ`.
            let title = cell.text.split(" / ").next().unwrap_or_default().trim().to_lowercase();
            if title.is_empty() {
                continue;
            }
            if !known.contains(&title.as_str()) {
                let problem = Problem::notice(format!("the column `{}` is not read", cell.text));
                let hint = nearest(&title, known.iter().copied()).map_or_else(
                    || format!("columns that are read: {}", known.join(", ")),
                    |near| format!("did you mean `{near}`?"),
                );
                self.notices.push(problem.at(cell.place.clone()).label("no task of this set").hint(hint));
            } else if let Some(&first) = self.columns.get(&title) {
                let problem = Problem::error(format!("the column `{title}` stands twice in the form"));
                let problem = problem.at(cell.place.clone()).also(head[first].place.clone(), "the first");
                self.errors.push(problem.hint("keep one of the two"));
            } else {
                self.columns.insert(title, place);
            }
        }
        if !self.columns.contains_key("id") {
            let place = head.first().map(|cell| cell.place.clone());
            let problem = Problem::error("the form has no column `id`");
            let problem = match place {
                Some(place) => problem.at(place).label("expected `id` among the heads"),
                None => problem,
            };
            self.errors
                .push(problem.hint("take the form that lies in the set's folder, and leave its first line as it is"));
        }
        let missing: Vec<&str> = tasks.into_iter().filter(|task| !self.columns.contains_key(*task)).collect();
        if !missing.is_empty() && self.errors.is_empty() {
            let problem = Problem::notice(format!("the form has no column for {}", missing.join(", ")));
            self.notices.push(problem.hint("these tasks count as not answered"));
        }
    }

    fn cell<'r>(&self, row: &'r Row, column: &str) -> Option<&'r Cell> {
        row.get(*self.columns.get(column)?).filter(|cell| !cell.text.is_empty())
    }

    fn error(&mut self, cell: &Cell, found: String, hint: String) {
        self.errors.push(Problem::error(found).at(cell.place.clone()).label("here").hint(hint));
    }

    fn row(&mut self, row: &Row) -> Option<FilledRow> {
        // The line of units under the heads has no id.
        let id = self.cell(row, "id")?;
        let Some(student) = self.members.iter().position(|member| member.student.id == id.text) else {
            let ids = self.members.iter().map(|member| member.student.id.as_str());
            let hint = nearest(&id.text, ids)
                .map_or_else(|| "the set's record holds the ids".to_owned(), |near| format!("did you mean `{near}`?"));
            self.error(id, format!("no student of this set has the id `{}`", id.text), hint);
            return None;
        };
        if let Some(first) = self.seen.get(&student).cloned() {
            let problem = Problem::error(format!("student `{}` stands twice in the form", id.text));
            let problem = problem.at(id.place.clone()).label("the second").also(first, "the first");
            self.errors.push(problem.hint("keep one of the two rows"));
            return None;
        }
        self.seen.insert(student, id.place.clone());
        let sheet = self.sheet(row, student);
        let experiment = self.experiment;
        let own = self.members[sheet].own();
        let edition = self.members[sheet].edition;
        let tasks = experiment.tasks.iter().enumerate();
        let entries = tasks.map(|(index, task)| self.entry(row, own.asks(experiment, edition, index), index, task));
        let entries: Vec<Entry> = entries.collect();
        let fixed = self.fixed(row, sheet, &own);
        Some(FilledRow { student, sheet, entries, fixed })
    }

    /// Whose sheet it is.
    fn sheet(&mut self, row: &Row, student: usize) -> usize {
        let Some(cell) = self.cell(row, CODE).cloned() else { return student };
        let parsed = Code::parse(&cell.text).map(|code| code.to_string());
        let found = parsed.as_ref().ok().and_then(|code| self.members.iter().position(|member| member.code == *code));
        match (found, parsed) {
            (Some(sheet), _) => sheet,
            (None, Err(error)) => {
                self.error(
                    &cell,
                    format!("`{}` is no code: {error}", cell.text),
                    "codes stand on each page of a sheet".to_owned(),
                );
                student
            }
            (None, Ok(_)) => {
                let hint =
                    "type the code that stands on the sheet; that of the student's own sheet stands in the set's form";
                self.error(&cell, format!("no sheet of this set has the code `{}`", cell.text), hint.to_owned());
                student
            }
        }
    }

    fn entry(&mut self, row: &Row, asked: bool, index: usize, task: &TaskPlan) -> Entry {
        let Some(cell) = self.cell(row, &task.id).cloned() else {
            return if asked { Entry::Blank } else { Entry::Outside };
        };
        if !asked {
            if !(cell.text.eq_ignore_ascii_case("x") || entry::is_blank(&cell.text)) {
                let found =
                    format!("the sheet of this student has no task `{}`, but `{}` stands here", task.id, cell.text);
                let hint = "empty the cell, or type the code of the sheet that the student worked on".to_owned();
                self.error(&cell, found, hint);
            }
            return Entry::Outside;
        }
        if cell.kind == CellKind::Date {
            let number = entry::of_date(&cell.text).unwrap_or_default();
            let Unreadable { found, hint } = Unreadable::date(&cell.text, &number);
            self.error(&cell, found, hint);
            return Entry::Blank;
        }
        let read = match task.body {
            TaskBody::Number(_) => entry::number(&cell.text, cell.kind == CellKind::Text, &self.language.notation),
            _ => entry::points(&cell.text, self.experiment.definition.tasks[index].marks.total()),
        };
        read.unwrap_or_else(|Unreadable { found, hint }| {
            self.error(&cell, found, hint);
            Entry::Blank
        })
    }

    /// A total set by hand.
    fn fixed(&mut self, row: &Row, sheet: usize, own: &Own) -> Option<Override> {
        let cell = self.cell(row, OVERRIDE)?.clone();
        if entry::is_blank(&cell.text) {
            return None;
        }
        let reason = self.cell(row, REASON).map(|cell| cell.text.clone()).unwrap_or_default();
        let most = own.key.marks_of(self.experiment, self.members[sheet].edition);
        match cell.text.parse::<u32>() {
            Ok(marks) if marks <= most => Some(Override { marks, reason }),
            _ => {
                let found = format!("`{}` is no total of this sheet", cell.text);
                self.error(&cell, found, format!("write a whole number from 0 to {most}, or leave the cell empty"));
                None
            }
        }
    }
}

//! The file that a table stands in. In: a path. Out: rows of cells with their places. It must not ask what a cell means.

use std::{fs::File, io::Read, ops::Range, path::Path};

use super::{decode::decode, text, workbook};
use crate::report::{Place, Problem, Problems, Source};

/// The largest file that is read, bytes.
const LARGEST: u64 = 100_000_000;

/// What a file is read for, in words of messages.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Purpose {
    /// The file, such as `class file`.
    pub(crate) file: &'static str,
    /// What stands in it, such as `class list`.
    pub(crate) content: &'static str,
}

/// A cell with its place.
#[derive(Debug, Clone)]
pub(crate) struct Cell {
    /// Its text, trimmed.
    pub(crate) text: String,
    /// Where it stands.
    pub(crate) place: Place,
    /// What a spreadsheet took it for.
    pub(crate) kind: CellKind,
}

/// What a spreadsheet took a cell for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum CellKind {
    /// A text, with all its signs.
    Text,
    /// A number, whose zeros at the end are lost.
    Number,
    /// A day or a time.
    Date,
}

/// A row of cells.
pub(crate) type Row = Vec<Cell>;

/// The rows of a file; blank rows are left out.
#[derive(Debug)]
pub(crate) struct Table {
    /// The sheet of a workbook that they stand on.
    pub(crate) sheet: Option<String>,
    /// The rows, the header first.
    pub(crate) rows: Vec<Row>,
    /// What was noticed while they were split.
    pub(crate) problems: Problems,
}

/// Reads the table of a csv file or of a workbook's first sheet.
///
/// # Errors
/// A problem where the file can't be read as a table at all.
pub(crate) fn read(path: &Path, purpose: Purpose) -> Result<Table, Problem> {
    let tables = tables(path, purpose, Sheets::First)?;
    let nothing = Table { sheet: None, rows: Vec::new(), problems: Vec::new() };
    Ok(tables.into_iter().next().unwrap_or(nothing))
}

/// Which sheets of a workbook are read.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Sheets {
    First,
    All,
}

/// Reads the table of a csv file, or those of all sheets of a workbook.
///
/// # Errors
/// A problem where the file can't be read as a table at all.
pub(crate) fn read_all(path: &Path, purpose: Purpose) -> Result<Vec<Table>, Problem> {
    tables(path, purpose, Sheets::All)
}

fn tables(path: &Path, purpose: Purpose, sheets: Sheets) -> Result<Vec<Table>, Problem> {
    let Purpose { file, content } = purpose;
    let name = path.display().to_string();
    let fail = |message: String| Problem::error(message).at(Place::File(name.clone()));
    let unreadable = |error: std::io::Error| {
        fail(format!("the {file} can not be read: {error}"))
            .hint(format!("check the path; the {content} is a csv or xlsx file"))
    };
    if std::fs::metadata(path).map_err(unreadable)?.is_dir() {
        let message = format!("a folder stands where the {file} is expected");
        return Err(fail(message).hint("name the file in it"));
    }
    let mut bytes = Vec::new();
    // The length that the system states is no bound: a pipe or a device states none.
    File::open(path).and_then(|open| open.take(LARGEST + 1).read_to_end(&mut bytes)).map_err(unreadable)?;
    if bytes.len() as u64 > LARGEST {
        let message = format!("the {file} has more than {} MB", LARGEST / 1_000_000);
        return Err(fail(message).hint(format!("a {content} is much smaller: check the path")));
    }
    let ending = path.extension().map(|ending| ending.to_string_lossy().to_lowercase()).unwrap_or_default();
    if ["xlsx", "xlsm", "xls", "ods"].contains(&ending.as_str()) {
        return workbook::tables(&bytes, ["xlsx", "xlsm"].contains(&ending.as_str()), &name, sheets);
    }
    if bytes.starts_with(b"PK\x03\x04") {
        return Err(fail("the file is a workbook, not a csv file".to_owned()).hint("give it the ending `.xlsx`"));
    }
    let decoded = decode(&bytes);
    if decoded.text.contains('\0') {
        return Err(fail(format!("the {file} is not a text")).hint(format!("save the {content} as csv or xlsx")));
    }
    let source = Source::new(name, decoded.text);
    let mut table = text::rows(&source);
    if decoded.guessed {
        let notice = Problem::notice(format!("the {file} is not UTF-8 and was read as Windows-1252"))
            .at(Place::Text(source.clone(), first_foreign(&source.text)))
            .label("the first letter that depends on it");
        table.problems.push(notice.hint("if a name looks wrong, save the file as UTF-8"));
    }
    Ok(vec![table])
}

/// The bytes of the first sign beyond ASCII.
fn first_foreign(text: &str) -> Range<usize> {
    text.char_indices().find(|(_, sign)| !sign.is_ascii()).map_or(0..0, |(at, sign)| at..at + sign.len_utf8())
}

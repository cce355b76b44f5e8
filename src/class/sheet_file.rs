//! The file that a class stands in. In: a path. Out: rows of cells with their places. It must not ask what a cell means.

use std::{fs::File, io::Read, ops::Range, path::Path};

use super::{decode::decode, text_table, workbook};
use crate::report::{Place, Problem, Problems, Source};

/// The largest file that is read, bytes.
const LARGEST: u64 = 100_000_000;

/// A cell with its place.
#[derive(Debug, Clone)]
pub(super) struct Cell {
    /// Its text, trimmed.
    pub(super) text: String,
    /// Where it stands.
    pub(super) place: Place,
}

/// A row of cells.
pub(super) type Row = Vec<Cell>;

/// The rows of a file; blank rows are left out.
#[derive(Debug)]
pub(super) struct Table {
    /// The rows, the header first.
    pub(super) rows: Vec<Row>,
    /// What was noticed while they were split.
    pub(super) problems: Problems,
}

/// Reads the table of a csv file or of a workbook's first sheet.
///
/// # Errors
/// A problem where the file can't be read as a table at all.
pub(super) fn table(path: &Path) -> Result<Table, Problem> {
    let name = path.display().to_string();
    let fail = |message: String| Problem::error(message).at(Place::File(name.clone()));
    let unreadable = |error: std::io::Error| {
        fail(format!("the class file can not be read: {error}"))
            .hint("check the path; a class list is a csv or xlsx file")
    };
    if std::fs::metadata(path).map_err(unreadable)?.is_dir() {
        return Err(fail("a folder stands where a class file is expected".to_owned()).hint("name the file in it"));
    }
    let mut bytes = Vec::new();
    // The length that the system states is no bound: a pipe or a device states none.
    File::open(path).and_then(|file| file.take(LARGEST + 1).read_to_end(&mut bytes)).map_err(unreadable)?;
    if bytes.len() as u64 > LARGEST {
        let message = format!("the class file has more than {} MB", LARGEST / 1_000_000);
        return Err(fail(message).hint("a class list is much smaller: check the path"));
    }
    let ending = path.extension().map(|ending| ending.to_string_lossy().to_lowercase()).unwrap_or_default();
    if ["xlsx", "xlsm", "xls", "ods"].contains(&ending.as_str()) {
        return workbook::table(&bytes, ["xlsx", "xlsm"].contains(&ending.as_str()), &name);
    }
    if bytes.starts_with(b"PK\x03\x04") {
        return Err(fail("the file is a workbook, not a csv file".to_owned()).hint("give it the ending `.xlsx`"));
    }
    let decoded = decode(&bytes);
    if decoded.text.contains('\0') {
        return Err(fail("the class file is not a text".to_owned()).hint("save the class list as csv or xlsx"));
    }
    let source = Source::new(name, decoded.text);
    let mut table = text_table::table(&source);
    if decoded.guessed {
        let notice = Problem::notice("the class file is not UTF-8 and was read as Windows-1252")
            .at(Place::Text(source.clone(), first_foreign(&source.text)))
            .label("the first letter that depends on it");
        table.problems.push(notice.hint("if a name looks wrong, save the file as UTF-8"));
    }
    Ok(table)
}

/// The bytes of the first sign beyond ASCII.
fn first_foreign(text: &str) -> Range<usize> {
    text.char_indices().find(|(_, sign)| !sign.is_ascii()).map_or(0..0, |(at, sign)| at..at + sign.len_utf8())
}

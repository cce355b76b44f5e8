//! Rows and cells of a csv or xlsx file. In: a path. Out: cells with their places. It must not ask what a cell means.

use std::{path::Path, sync::Arc};

use calamine::{Data, Reader, open_workbook_auto};

use super::decode::{decode, delimiter};
use crate::report::{Place, Problem, Source};

/// The largest file that is read, bytes.
const LARGEST: u64 = 20_000_000;

/// A cell with its place.
#[derive(Debug, Clone)]
pub(super) struct Cell {
    /// Its text, trimmed.
    pub(super) text: String,
    /// Where it stands.
    pub(super) place: Place,
}

/// A row of cells; blank rows are left out.
pub(super) type Row = Vec<Cell>;

/// The rows of a table.
///
/// # Errors
/// A problem where the file can't be read as a table.
pub(super) fn rows(path: &Path) -> Result<Vec<Row>, Problem> {
    let name = path.display().to_string();
    let fail = |message: String| Problem::error(message).at(Place::File(name.clone()));
    let metadata = std::fs::metadata(path).map_err(|error| {
        fail(format!("the class file can not be read: {error}"))
            .hint("check the path; a class list is a csv or xlsx file")
    })?;
    if metadata.is_dir() {
        return Err(fail("a folder stands where a class file is expected".to_owned()).hint("name the file in it"));
    }
    if metadata.len() > LARGEST {
        return Err(
            fail(format!("the file has {} MB", metadata.len() / 1_000_000)).hint("a class list is much smaller")
        );
    }
    let ending = path.extension().map(|ending| ending.to_string_lossy().to_lowercase()).unwrap_or_default();
    if ["xlsx", "xlsm", "xls", "ods"].contains(&ending.as_str()) {
        return workbook(path, &name);
    }
    let bytes = std::fs::read(path).map_err(|error| fail(format!("the class file can not be read: {error}")))?;
    if bytes.starts_with(b"PK\x03\x04") {
        return Err(fail("the file is a workbook, not a csv file".to_owned()).hint("give it the ending `.xlsx`"));
    }
    csv_rows(&Source::new(name, decode(&bytes)))
}

/// The rows of a csv text.
///
/// # Errors
/// A located problem where quotes are not closed.
pub(super) fn csv_rows(source: &Arc<Source>) -> Result<Vec<Row>, Problem> {
    let text = &source.text;
    let (start, sign) = match text.lines().next().and_then(|line| line.trim().strip_prefix("sep=")) {
        Some(named) => (text.find('\n').map_or(text.len(), |at| at + 1), named.bytes().next().unwrap_or(b',')),
        None => (0, delimiter(text)),
    };
    let mut reader = csv::ReaderBuilder::new()
        .has_headers(false)
        .flexible(true)
        .delimiter(sign)
        .from_reader(&text.as_bytes()[start..]);
    let mut rows = Vec::new();
    for record in reader.records() {
        let record = record.map_err(|error| {
            let at = error.position().map_or(0, |position| start + position.byte() as usize);
            Problem::error(format!("the table can not be read: {error}"))
                .at(Place::Text(Arc::clone(source), at..at))
                .hint("check the quotes in this line")
        })?;
        let line_start = record.position().map_or(0, |position| start + position.byte() as usize);
        let mut at = line_start + text[line_start..].find(|sign| !matches!(sign, '\r' | '\n')).unwrap_or(0);
        let mut row = Vec::with_capacity(record.len());
        for field in &record {
            let (place, end) = field_place(text, at, sign);
            at = end;
            row.push(Cell { text: field.trim().to_owned(), place: Place::Text(Arc::clone(source), place) });
        }
        if row.iter().any(|cell| !cell.text.is_empty()) {
            rows.push(row);
        }
    }
    Ok(rows)
}

/// The bytes of a field that starts at `at`, quotes included, and where the next one starts.
fn field_place(text: &str, at: usize, sign: u8) -> (std::ops::Range<usize>, usize) {
    let bytes = text.as_bytes();
    let start = at.min(bytes.len());
    let mut end = start;
    let mut quoted = false;
    while let Some(&byte) = bytes.get(end) {
        if byte == b'"' {
            quoted = !quoted;
        } else if !quoted && (byte == sign || byte == b'\n' || byte == b'\r') {
            break;
        }
        end += 1;
    }
    (start..end, (end + 1).min(bytes.len()))
}

fn workbook(path: &Path, name: &str) -> Result<Vec<Row>, Problem> {
    let fail = |message: String| {
        Problem::error(message)
            .at(Place::File(name.to_owned()))
            .hint("open it in a spreadsheet and save it as xlsx or csv")
    };
    let mut book = open_workbook_auto(path).map_err(|error| fail(format!("the workbook can not be read: {error}")))?;
    let sheet = book.sheet_names().first().cloned().ok_or_else(|| fail("the workbook has no sheet".to_owned()))?;
    let range = book.worksheet_range(&sheet).map_err(|error| fail(format!("the sheet can not be read: {error}")))?;
    let (top, left) = range.start().unwrap_or((0, 0));
    let rows = range.rows().enumerate().map(|(row, cells)| {
        let cells = cells.iter().enumerate().map(|(column, cell)| Cell {
            text: text_of(cell),
            place: Place::Cell(name.to_owned(), sheet.clone(), address(top as usize + row, left as usize + column)),
        });
        cells.collect::<Row>()
    });
    Ok(rows.filter(|row| row.iter().any(|cell| !cell.text.is_empty())).collect())
}

fn text_of(cell: &Data) -> String {
    match cell {
        Data::Float(number) if number.fract() == 0.0 && number.abs() < 1e15 => format!("{number:.0}"),
        other => other.to_string().trim().to_owned(),
    }
}

/// The address of a cell, such as `B4`, from row and column counted from zero.
fn address(row: usize, mut column: usize) -> String {
    let mut letters = String::new();
    loop {
        letters.insert(0, char::from(b'A' + (column % 26) as u8));
        if column < 26 {
            break;
        }
        column = column / 26 - 1;
    }
    format!("{letters}{}", row + 1)
}

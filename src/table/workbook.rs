//! Rows and cells of a workbook's first sheet. In: a workbook's bytes. Out: cells with their addresses.
//! It must not ask what a cell means, nor trust a sheet's stated size.

use std::{collections::BTreeMap, io::Cursor};

use calamine::{Data, Reader, Xlsx, open_workbook_auto_from_rs, open_workbook_from_rs};

use super::file::{Cell, CellKind, Row, Sheets, Table};
use crate::report::{Place, Problem};

/// The texts and kinds of a sheet by row and column, both from zero. Only cells that hold something: one lost cell in the last
/// corner of a sheet would otherwise make it a table of 17 000 million cells.
type Cells = BTreeMap<u32, BTreeMap<u32, (String, CellKind)>>;

/// The rows of a workbook's sheets; `xlsx` says whether its name ends so, other kinds are told apart by their bytes.
///
/// # Errors
/// A problem where the workbook can't be read.
pub(super) fn tables(bytes: &[u8], xlsx: bool, name: &str, sheets: Sheets) -> Result<Vec<Table>, Problem> {
    let found = if xlsx { from_xlsx(bytes, sheets) } else { from_others(bytes, sheets) }.map_err(|reason| {
        Problem::error(format!("the workbook can not be read: {reason}"))
            .at(Place::File(name.to_owned()))
            .hint("open it in a spreadsheet and save it as xlsx or csv")
    })?;
    Ok(found.into_iter().map(|(sheet, cells)| table(sheet, &cells, name)).collect())
}

fn table(sheet: String, cells: &Cells, name: &str) -> Table {
    let left = cells.values().filter_map(|row| row.keys().next()).min().copied().unwrap_or(0);
    let row = |(&row, cells): (&u32, &BTreeMap<u32, (String, CellKind)>)| -> Row {
        let right = cells.keys().last().copied().unwrap_or(left);
        let cell = |column: u32| {
            let (text, kind) = cells.get(&column).cloned().unwrap_or((String::new(), CellKind::Text));
            Cell { text, place: Place::Cell(name.to_owned(), sheet.clone(), address(row, column)), kind }
        };
        (left..=right).map(cell).collect()
    };
    let rows = cells.iter().map(row).collect();
    Table { sheet: Some(sheet), rows, problems: Vec::new() }
}

/// The names of the sheets that are read.
fn named(names: Vec<String>, sheets: Sheets) -> Result<Vec<String>, String> {
    match sheets {
        _ if names.is_empty() => Err("it has no sheet".to_owned()),
        Sheets::First => Ok(names.into_iter().take(1).collect()),
        Sheets::All => Ok(names),
    }
}

fn from_xlsx(bytes: &[u8], sheets: Sheets) -> Result<Vec<(String, Cells)>, String> {
    let mut book: Xlsx<_> = open_workbook_from_rs(Cursor::new(bytes)).map_err(reason::<calamine::XlsxError>)?;
    let mut found = Vec::new();
    for sheet in named(book.sheet_names(), sheets)? {
        let mut reader = book.worksheet_cells_reader(&sheet).map_err(reason)?;
        let mut cells = Cells::new();
        while let Some(cell) = reader.next_cell().map_err(reason)? {
            keep(&mut cells, cell.get_position(), &cell.get_value().clone().into());
        }
        found.push((sheet, cells));
    }
    Ok(found)
}

fn from_others(bytes: &[u8], sheets: Sheets) -> Result<Vec<(String, Cells)>, String> {
    let mut book = open_workbook_auto_from_rs(Cursor::new(bytes)).map_err(reason)?;
    let mut found = Vec::new();
    for sheet in named(book.sheet_names(), sheets)? {
        let range = book.worksheet_range(&sheet).map_err(reason)?;
        let (top, left) = range.start().unwrap_or((0, 0));
        let mut cells = Cells::new();
        for (row, column, data) in range.used_cells() {
            keep(&mut cells, (top + row as u32, left + column as u32), data);
        }
        found.push((sheet, cells));
    }
    Ok(found)
}

fn reason<E: std::fmt::Display>(error: E) -> String {
    error.to_string()
}

fn keep(cells: &mut Cells, (row, column): (u32, u32), data: &Data) {
    let text = match data {
        // A whole number is an id or a seat, never written `7.0`.
        Data::Float(number) if number.fract() == 0.0 && number.abs() < 1e15 => format!("{number:.0}"),
        Data::DateTime(time) if time.is_datetime() => {
            let (year, month, day, hour, minute, second, milli) = time.to_ymd_hms_milli();
            let clock = format!("{hour:02}:{minute:02}:{second:02}.{milli:03}");
            // A time of day lies on no day; a day without a time is one.
            match (time.as_f64() < 1.0, time.as_f64().fract() == 0.0) {
                (true, _) => clock,
                (false, true) => format!("{year:04}-{month:02}-{day:02}"),
                (false, false) => format!("{year:04}-{month:02}-{day:02} {clock}"),
            }
        }
        other => other.to_string().trim().to_owned(),
    };
    let kind = match data {
        Data::Int(_) | Data::Float(_) => CellKind::Number,
        Data::DateTime(_) | Data::DateTimeIso(_) | Data::DurationIso(_) => CellKind::Date,
        _ => CellKind::Text,
    };
    if !text.is_empty() {
        cells.entry(row).or_default().insert(column, (text, kind));
    }
}

/// The address of a cell, such as `B4`, from row and column counted from zero.
fn address(row: u32, mut column: u32) -> String {
    let mut letters = String::new();
    loop {
        letters.insert(0, char::from(b'A' + (column % 26) as u8));
        if column < 26 {
            break;
        }
        column = column / 26 - 1;
    }
    format!("{letters}{}", u64::from(row) + 1)
}

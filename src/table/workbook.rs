//! Rows and cells of a workbook's first sheet. In: a workbook's bytes. Out: cells with their addresses.
//! It must not ask what a cell means, nor trust a sheet's stated size.

use std::{collections::BTreeMap, io::Cursor};

use calamine::{Data, Reader, Xlsx, open_workbook_auto_from_rs, open_workbook_from_rs};

use super::file::{Cell, CellKind, Row, Table};
use crate::report::{Place, Problem};

/// The texts and kinds of a sheet by row and column, both from zero. Only cells that hold something: one lost cell in the last
/// corner of a sheet would otherwise make it a table of 17 000 million cells.
type Cells = BTreeMap<u32, BTreeMap<u32, (String, CellKind)>>;

/// The rows of a workbook's first sheet; `xlsx` says whether its name ends so, other kinds are told apart by their bytes.
///
/// # Errors
/// A problem where the workbook can't be read.
pub(super) fn table(bytes: &[u8], xlsx: bool, name: &str) -> Result<Table, Problem> {
    let (sheet, cells) = if xlsx { from_xlsx(bytes) } else { from_others(bytes) }.map_err(|reason| {
        Problem::error(format!("the workbook can not be read: {reason}"))
            .at(Place::File(name.to_owned()))
            .hint("open it in a spreadsheet and save it as xlsx or csv")
    })?;
    let left = cells.values().filter_map(|row| row.keys().next()).min().copied().unwrap_or(0);
    let row = |(&row, cells): (&u32, &BTreeMap<u32, (String, CellKind)>)| -> Row {
        let right = cells.keys().last().copied().unwrap_or(left);
        let cell = |column: u32| {
            let (text, kind) = cells.get(&column).cloned().unwrap_or((String::new(), CellKind::Text));
            Cell { text, place: Place::Cell(name.to_owned(), sheet.clone(), address(row, column)), kind }
        };
        (left..=right).map(cell).collect()
    };
    Ok(Table { rows: cells.iter().map(row).collect(), problems: Vec::new() })
}

fn from_xlsx(bytes: &[u8]) -> Result<(String, Cells), String> {
    let mut book: Xlsx<_> = open_workbook_from_rs(Cursor::new(bytes)).map_err(reason::<calamine::XlsxError>)?;
    let sheet = book.sheet_names().first().cloned().ok_or("it has no sheet")?;
    let mut reader = book.worksheet_cells_reader(&sheet).map_err(reason)?;
    let mut cells = Cells::new();
    while let Some(cell) = reader.next_cell().map_err(reason)? {
        keep(&mut cells, cell.get_position(), &cell.get_value().clone().into());
    }
    Ok((sheet, cells))
}

fn from_others(bytes: &[u8]) -> Result<(String, Cells), String> {
    let mut book = open_workbook_auto_from_rs(Cursor::new(bytes)).map_err(reason)?;
    let sheet = book.sheet_names().first().cloned().ok_or("it has no sheet")?;
    let range = book.worksheet_range(&sheet).map_err(reason)?;
    let (top, left) = range.start().unwrap_or((0, 0));
    let mut cells = Cells::new();
    for (row, column, data) in range.used_cells() {
        keep(&mut cells, (top + row as u32, left + column as u32), data);
    }
    Ok((sheet, cells))
}

fn reason<E: std::fmt::Display>(error: E) -> String {
    error.to_string()
}

fn keep(cells: &mut Cells, (row, column): (u32, u32), data: &Data) {
    let text = match data {
        // A whole number is an id or a seat, never written `7.0`.
        Data::Float(number) if number.fract() == 0.0 && number.abs() < 1e15 => format!("{number:.0}"),
        Data::DateTime(time) if time.is_datetime() => {
            let (year, month, day, ..) = time.to_ymd_hms_milli();
            format!("{year:04}-{month:02}-{day:02}")
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

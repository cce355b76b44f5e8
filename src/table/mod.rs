//! Tables that people make with a spreadsheet. In: the path of a csv file or a workbook. Out: rows of cells with their places.
//! It must not ask what a cell means.

mod decode;
mod file;
mod text;
mod workbook;

pub(crate) use file::{Cell, CellKind, Purpose, Row, Table, read, read_all};
pub(crate) use text::rows;

//! Rows and cells of a csv text. In: a text. Out: cells with the bytes they stand on, quotes included.
//! It must not ask what a cell means.

use std::{ops::Range, sync::Arc};

use super::file::{Cell, CellKind, Row, Table};
use crate::report::{Place, Problem, Source};

/// Splits a text into rows of cells.
pub(crate) fn rows(source: &Arc<Source>) -> Table {
    let text = &source.text;
    let (start, sign) = named_delimiter(text).unwrap_or_else(|| (0, delimiter(text)));
    let mut reader = csv::ReaderBuilder::new()
        .has_headers(false)
        .flexible(true)
        .delimiter(sign)
        .from_reader(&text.as_bytes()[start..]);
    let mut table = Table { sheet: None, rows: Vec::new(), problems: Vec::new() };
    for record in reader.records() {
        let record = match record {
            Ok(record) => record,
            Err(error) => {
                let at = error.position().map_or(0, |position| start + position.byte() as usize);
                let problem = Problem::error(format!("the table can not be read: {error}"));
                let problem = problem.at(Place::Text(Arc::clone(source), at..at));
                table.problems.push(problem.hint("check the quotes in this line"));
                break;
            }
        };
        let from = record.position().map_or(0, |position| start + position.byte() as usize);
        let mut at = from + text[from..].find(|sign| !matches!(sign, '\r' | '\n')).unwrap_or(0);
        let mut row = Row::with_capacity(record.len());
        for field in &record {
            let span = span(text, at, sign);
            at = (span.end + 1).min(text.len());
            let place = Place::Text(Arc::clone(source), span);
            row.push(Cell { text: field.trim().to_owned(), place, kind: CellKind::Text });
        }
        if let Some(Cell { place: Place::Text(_, span), .. }) = row.last()
            && text[span.clone()].starts_with('"')
            && closed_quote(&text[span.clone()]).is_none()
        {
            let problem = Problem::error("a quote is not closed")
                .at(Place::Text(Arc::clone(source), span.start..span.start + 1))
                .label("opens here");
            table.problems.push(problem.hint("close it, or write a quote within quotes twice"));
        } else if row.iter().any(|cell| !cell.text.is_empty()) {
            table.rows.push(row);
        }
    }
    table
}

/// The delimiter that a first line such as `sep=;` names, and where the next line starts.
fn named_delimiter(text: &str) -> Option<(usize, u8)> {
    let line = text.lines().next()?;
    let (head, named) = line.split_at_checked(4)?;
    let sign = *named.as_bytes().first()?;
    let named = head.eq_ignore_ascii_case("sep=") && sign.is_ascii() && sign != b'"';
    named.then(|| (text.find('\n').map_or(text.len(), |at| at + 1), sign))
}

/// Lines that a delimiter is looked for in.
const LINES: usize = 60;

/// The delimiter of a table: the commonest of semicolon, tab and comma in its first line, outside quotes; where most of the
/// lines below lack it, as below what a logger says of itself, the first of the three that most of them have.
fn delimiter(text: &str) -> u8 {
    const SIGNS: [u8; 3] = [b';', b'\t', b','];
    let lines: Vec<&str> = text.lines().filter(|line| !line.trim().is_empty()).take(LINES).collect();
    let count = |line: &str, sign: u8| {
        let mut quoted = false;
        let outside = line.bytes().filter(|&byte| {
            quoted ^= byte == b'"';
            byte == sign && !quoted
        });
        outside.count()
    };
    let common = |sign: u8| 2 * lines.iter().filter(|line| count(line, sign) > 0).count() > lines.len();
    let head = lines.first().copied().unwrap_or_default();
    let most = SIGNS.into_iter().map(|sign| count(head, sign)).max().unwrap_or(0);
    let first = SIGNS.into_iter().find(|&sign| count(head, sign) == most).unwrap_or(b',');
    if most > 0 && common(first) { first } else { SIGNS.into_iter().find(|&sign| common(sign)).unwrap_or(first) }
}

/// The bytes of the field that starts at `at`. As for the reader, a quote counts only where a field starts with it.
fn span(text: &str, at: usize, sign: u8) -> Range<usize> {
    let start = at.min(text.len());
    let field = &text[start..];
    let mut end = match field.starts_with('"') {
        true => start + closed_quote(field).unwrap_or(field.len()),
        false => start,
    };
    while text.as_bytes().get(end).is_some_and(|&byte| byte != sign && byte != b'\n' && byte != b'\r') {
        end += 1;
    }
    start..end
}

/// How many bytes the quoted part takes that a field starts with; nothing where it is never closed.
fn closed_quote(field: &str) -> Option<usize> {
    let mut bytes = field.bytes().enumerate().skip(1).peekable();
    while let Some((at, byte)) = bytes.next() {
        // Two quotes stand for one within.
        if byte == b'"' && bytes.next_if(|&(_, next)| next == b'"').is_none() {
            return Some(at + 1);
        }
    }
    None
}

//! The workbook to type answers into. In: sets made here. Out: pass or fail.

use std::{io::Cursor, path::Path};

use calamine::{Data, Reader, Xlsx};
use labquire::commands::Ending;
use rust_xlsxwriter::{ExcelDateTime, Format, Workbook};
use serde_json::Value;
use tempfile::TempDir;

use crate::set::labquire;

const CLASS: &str = "id,name,edition\n1,Ann Falkner,core\n2,Ugo Bellandi,support\n3,Elif Aksoy,extension\n";

fn set(dir: &Path, more: &[&str]) -> Vec<u8> {
    let file = dir.join("class.csv");
    std::fs::write(&file, CLASS).expect("a class file");
    let out = dir.join("set");
    let mut words = vec!["make", "pumped-loop", "--class", file.to_str().expect("text"), "--pdf", "plain", "--force"];
    words.extend(["--out", out.to_str().expect("text")]);
    words.extend(more);
    let (ending, _, err) = labquire(&words);
    assert_eq!(ending, Ending::Done, "{err}");
    std::fs::read(out.join("answers.xlsx")).expect("the form")
}

/// The cells of a sheet as texts.
fn cells(bytes: &[u8], sheet: usize) -> Vec<Vec<String>> {
    let mut book: Xlsx<_> = Xlsx::new(Cursor::new(bytes)).expect("a workbook");
    let range = book.worksheet_range_at(sheet).expect("a sheet").expect("cells");
    range.rows().map(|row| row.iter().map(Data::to_string).collect()).collect()
}

#[test]
fn the_form_has_what_is_to_be_typed() {
    let dir = TempDir::new().expect("a temporary folder");
    let form = set(dir.path(), &[]);
    let rows = cells(&form, 0);
    let csv = std::fs::read_to_string(dir.path().join("set/answers.csv")).expect("the form as csv");
    let heads: Vec<&str> = csv.trim_start_matches('\u{FEFF}').lines().next().expect("heads").split(',').collect();
    assert_eq!(rows[0], heads, "the same columns as in the csv");
    assert_eq!(heads[heads.len() - 3..], ["code", "override", "reason"]);
    let column = |name: &str| heads.iter().position(|head| *head == name).expect(name);
    assert_eq!((rows[1][0].as_str(), rows[1][column("heat")].as_str()), ("", "kJ"), "numbered otherwise by edition");
    assert_eq!(rows[1][column("curve")], "0–4 points");
    // The extension alone lacks `rise_column`, the first task, and has nine tasks before `tau`.
    assert_eq!(
        (rows[1][column("rise_column")].as_str(), rows[1][column("tau")].as_str()),
        ("Task 1: 0–2 points", "Task 10: min")
    );
    assert_eq!(rows[2][..2], ["1", "Ann Falkner"]);
    assert_eq!(
        (rows[2][column("tau")].as_str(), rows[4][column("tau")].as_str()),
        ("x", ""),
        "the extension alone has it"
    );
    assert!(rows[2][column("code")].len() == 9, "{:?}", rows[2]);
    assert!(cells(&form, 1).iter().any(|row| row[0].contains("1.2e3")), "the second sheet explains");
    assert_eq!(form, set(dir.path(), &[]), "the same set gives the same bytes");
    let nameless = cells(&set(dir.path(), &["--no-names"]), 0);
    assert!(nameless.iter().flatten().all(|cell| !cell.contains("Falkner")));
    let german = cells(&set(dir.path(), &["--lang", "de"]), 0);
    assert_eq!(german[1][column("curve")], "0–4 Punkte");
    assert_eq!(german[1][column("rise_column")], "Aufgabe 1: 0–2 Punkte");
}

/// A spreadsheet must leave answers as they are typed, and heads, ids and names alone.
#[test]
fn answers_are_texts_and_the_rest_is_locked() {
    let dir = TempDir::new().expect("a temporary folder");
    let form = set(dir.path(), &[]);
    let rows = cells(&form, 0);
    let mut book: Xlsx<_> = Xlsx::new(Cursor::new(form.as_slice())).expect("a workbook");
    assert_eq!(book.sheet_names(), ["Answers", "How to fill it in"]);
    let styles = book.worksheet_style("Answers").expect("styles");
    let mut answers = 0;
    for (row, texts) in rows.iter().enumerate() {
        for (column, text) in texts.iter().enumerate() {
            let head = rows[0][column].as_str();
            let style = styles.get((row as u32, column as u32));
            let unlocked = style.and_then(|style| style.protection.as_ref()).is_some_and(|cell| !cell.locked);
            let format = style.and_then(|style| style.number_format.as_ref()).map(|format| format.format_code.as_str());
            let typed = row >= 2 && !["id", "name"].contains(&head) && text != "x";
            assert_eq!(unlocked, typed, "{head} in row {row}");
            if typed && head != "override" {
                assert_eq!(format, Some("@"), "{head} in row {row}");
                answers += 1;
            }
            if typed && head == "override" {
                assert_ne!(format, Some("@"), "as texts, no numbers are whole ones");
            }
        }
    }
    let record: Value =
        serde_json::from_slice(&std::fs::read(dir.path().join("set/set.json")).expect("a record")).expect("JSON");
    let tasks = record["students"].as_array().expect("students").iter().map(|student| {
        let edition = &student["edition"];
        let all = record["tasks"].as_array().expect("tasks").iter();
        all.filter(|task| task["editions"].as_array().expect("editions").contains(edition)).count() + 2
    });
    assert_eq!(answers, tasks.sum::<usize>(), "every task of every sheet");
}

/// A workbook with the right answers, changed by `change`: row, column, name of the column.
fn filled(dir: &Path, change: impl Fn(&mut rust_xlsxwriter::Worksheet, u32, u16, &str, &str)) -> std::path::PathBuf {
    let form = set(dir, &[]);
    let record: Value =
        serde_json::from_slice(&std::fs::read(dir.join("set/set.json")).expect("a record")).expect("JSON");
    let rows = cells(&form, 0);
    let mut book = Workbook::new();
    let sheet = book.add_worksheet();
    for (row, texts) in rows.iter().enumerate() {
        for (column, text) in texts.iter().enumerate() {
            sheet.write_string(row as u32, column as u16, text).expect("a cell");
            if row < 2 || !text.is_empty() {
                continue;
            }
            let task = rows[0][column].as_str();
            let student = &record["students"][row - 2];
            let about = record["tasks"].as_array().expect("tasks").iter().find(|about| about["id"] == task);
            let Some(about) = about else { continue };
            let answer = match about["kind"].as_str() {
                Some("number") => student["answers"][task]["text"].as_str().expect("a text").to_owned(),
                _ => about["marks"].to_string(),
            };
            change(sheet, row as u32, column as u16, task, &answer);
        }
    }
    let path = dir.join("filled.xlsx");
    book.save(&path).expect("a workbook");
    path
}

fn mark(dir: &Path, form: &Path) -> (Ending, String, String) {
    labquire(&["mark", dir.join("set").to_str().expect("text"), "--answers", form.to_str().expect("text"), "--json"])
}

#[test]
fn a_filled_workbook_is_marked() {
    let dir = TempDir::new().expect("a temporary folder");
    let form = filled(dir.path(), |sheet, row, column, _, answer| {
        // Some cells as texts with units, others as numbers that have lost their zeros.
        let number = answer.split(' ').next().and_then(|number| number.parse::<f64>().ok());
        match number.filter(|_| (row + u32::from(column)) % 2 == 0 && row < 4) {
            Some(number) => sheet.write_number(row, column, number).expect("a cell"),
            None => sheet.write_string(row, column, answer).expect("a cell"),
        };
    });
    let (ending, out, err) = mark(dir.path(), &form);
    assert_eq!(ending, Ending::Done, "{err}");
    let marks: Value = serde_json::from_str(&out).expect("JSON");
    for student in marks["students"].as_array().expect("students") {
        assert_eq!(student["total"], student["out_of"], "{student}");
    }
    let marked = std::fs::read(dir.path().join("set/marked/marks.xlsx")).expect("marks");
    let rows = cells(&marked, 0);
    assert_eq!(rows[0][..3], ["id", "name", "code"]);
    let total = rows[0].iter().position(|head| head == "total").expect("a total");
    assert_eq!(rows[2][total], marks["students"][0]["total"].to_string());
    assert_eq!(
        std::fs::read(dir.path().join("set/marked/typed.xlsx")).expect("typed"),
        std::fs::read(form).expect("form")
    );
}

/// A spreadsheet that took 3.4 for the third of April is caught, and the cell named by its address.
#[test]
fn a_date_is_named_by_its_cell() {
    let dir = TempDir::new().expect("a temporary folder");
    let form = filled(dir.path(), |sheet, row, column, task, answer| {
        if row == 2 && task == "heat" {
            let day = ExcelDateTime::from_ymd(2026, 4, 3).expect("a day");
            let date = Format::new().set_num_format("dd.mm.yyyy");
            sheet.write_datetime_with_format(row, column, &day, &date).expect("a cell");
        } else {
            sheet.write_string(row, column, answer).expect("a cell");
        }
    });
    let (ending, _, err) = mark(dir.path(), &form);
    assert_eq!(ending, Ending::Input);
    assert!(err.contains("is a date") && err.contains("`3.4`") && err.contains("F3"), "{err}");
}

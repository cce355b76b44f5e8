//! Class files: everything that spreadsheets write, and everything that can be wrong with it.

use std::path::PathBuf;

use labquire::{
    class::{self, Edition, Roster},
    report::{Level, Place, Problems},
};
use tempfile::TempDir;

fn file(dir: &TempDir, name: &str, bytes: &[u8]) -> PathBuf {
    let path = dir.path().join(name);
    std::fs::write(&path, bytes).expect("a temporary file");
    path
}

fn read(bytes: &[u8]) -> Result<(Roster, Problems), Problems> {
    let dir = TempDir::new().expect("a temporary folder");
    class::read(&file(&dir, "9b.csv", bytes))
}

const TABLE: &str =
    "id;Name;Edition;Seat;Lang;Print\r\n1;Žofia Łęcka;core;A2;;\r\n2;\"Al; \"\"O'Neil\"\"\";SUPPORT;a1;de;large\r\n";

fn assert_table(roster: &Roster, name: &str) {
    assert_eq!(roster.students.len(), 2, "{name}");
    assert_eq!(roster.students[0].name, "Žofia Łęcka", "{name}");
    assert_eq!(roster.students[1].name, "Al; \"O'Neil\"", "{name}");
    assert_eq!(roster.students[1].edition, Some(Edition::Support), "{name}");
    assert!(roster.students[1].large && !roster.students[0].large, "{name}");
    assert_eq!(roster.in_order()[0].id, "2", "{name}: seat A1 comes before A2");
}

#[test]
fn encodings_and_delimiters_of_spreadsheets_are_read() {
    let utf16 = |big: bool| -> Vec<u8> {
        let units = std::iter::once('\u{FEFF}').chain(TABLE.chars()).collect::<String>();
        units.encode_utf16().flat_map(|unit| if big { unit.to_be_bytes() } else { unit.to_le_bytes() }).collect()
    };
    let tabs = TABLE.replace(';', "\t").replace("Al\t", "Al;");
    let commas = TABLE.replace(';', ",").replace("\"Al,", "\"Al;");
    for (name, bytes) in [
        ("UTF-8", TABLE.as_bytes().to_vec()),
        ("UTF-8 with mark", format!("\u{FEFF}{TABLE}").into_bytes()),
        ("UTF-16 little", utf16(false)),
        ("UTF-16 big", utf16(true)),
        ("UTF-16 without mark", utf16(false)[2..].to_vec()),
        ("tabs", tabs.into_bytes()),
        ("commas", commas.into_bytes()),
        ("named delimiter", format!("sep=;\r\n{TABLE}").into_bytes()),
    ] {
        let (roster, notices) = read(&bytes).unwrap_or_else(|problems| panic!("{name}: {problems:?}"));
        assert_table(&roster, name);
        assert_eq!(roster.name, "9b");
        assert!(notices.is_empty(), "{name}: {notices:?}");
    }
    let (roster, _) = read(b"name\nJ\xFCrgen Stra\xDFer\n").expect("Windows-1252");
    assert_eq!(roster.students[0].name, "Jürgen Straßer");
}

#[test]
fn workbooks_are_read() {
    let dir = TempDir::new().expect("a temporary folder");
    let path = dir.path().join("9b.xlsx");
    let mut book = rust_xlsxwriter::Workbook::new();
    let sheet = book.add_worksheet();
    for (column, head) in ["Name", "id", "seat"].iter().enumerate() {
        sheet.write(1, column as u16 + 1, *head).expect("a cell");
    }
    sheet.write(2, 1, "Žofia Łęcka").expect("a cell");
    sheet.write(2, 2, 7).expect("a cell");
    sheet.write(2, 3, "B4").expect("a cell");
    sheet.write(3, 1, "Zweite").expect("a cell");
    sheet.write(3, 2, 7).expect("a cell");
    book.save(&path).expect("a workbook");
    let problems = class::read(&path).expect_err("two equal ids");
    assert_eq!(problems.len(), 1);
    assert!(matches!(&problems[0].place, Some(Place::Cell(_, _, address)) if address == "C4"), "{problems:?}");
}

/// What is wrong, and where.
#[test]
fn every_fault_is_placed() {
    for (text, line, column, message) in [
        ("id,name\n1,Ann\n1,Bea\n", 3, 1, "a second student with the id `1`"),
        ("name\nAnn\nBea\nAnn\n", 4, 1, "a second student with the id `Ann`"),
        ("id,name\n1,\n", 2, 3, "the name is empty"),
        ("name,edition\nAnn,cor\n", 2, 5, "unknown edition `cor`"),
        ("name;lang\nÄnn;xx\n", 2, 5, "unknown language `xx`"),
        ("name,print\nAnn,huge\n", 2, 5, "unknown print `huge`"),
        ("name,seat\nAnn,4B\n", 2, 5, "no seat `4B`"),
        ("name,seat\nAnn,B4\nBea,b4\n", 3, 5, "a second student on seat `b4`"),
        ("name,name\nAnn,Bea\n", 1, 6, "the column `name` stands twice"),
        ("vorname,klasse\nAnn,9b\n", 1, 1, "the class file has no column `name`"),
        ("name\n", 1, 1, "the class file has no students"),
        ("id,name\n1,Falkner, Ann\n", 2, 11, "a cell without a column `Ann`"),
    ] {
        let problems = read(text.as_bytes()).expect_err(text);
        let problem = problems.iter().find(|problem| problem.level == Level::Error).expect(text);
        assert!(problem.message.contains(message), "{text}: {}", problem.message);
        let Some(Place::Text(source, span)) = &problem.place else { panic!("{text}: no place") };
        assert_eq!(source.line_column(span.start), (line, column), "{text}");
        assert!(problem.hint.is_some(), "{text}");
    }
}

#[test]
fn all_faults_come_at_once_and_unknown_columns_are_only_noticed() {
    let problems = read(b"name,edition,seat\n,core,A1\nBea,corr,A1\nCem,core,99\n").expect_err("four faults");
    assert_eq!(problems.len(), 4, "{problems:?}");
    let (_, notices) = read(b"name,birthday,sat\nAnn,1.1.,B4\n").expect("a class");
    assert_eq!(notices.len(), 2);
    assert!(notices[1].hint.as_ref().expect("a hint").contains("`seat`"));
}

#[test]
fn what_is_no_class_file_is_said() {
    let dir = TempDir::new().expect("a temporary folder");
    for (path, message) in [
        (dir.path().join("none.csv"), "can not be read"),
        (dir.path().to_owned(), "a folder stands"),
        (file(&dir, "empty.csv", b""), "is empty"),
        (file(&dir, "book.csv", b"PK\x03\x04rest"), "a workbook, not a csv"),
        (file(&dir, "bad.xlsx", b"no workbook"), "the workbook can not be read"),
    ] {
        let problems = class::read(&path).expect_err(message);
        assert!(problems[0].message.contains(message), "{}", problems[0].message);
    }
}

#[test]
fn the_demo_class_has_24_students() {
    let demo = class::demo();
    assert_eq!((demo.name.as_str(), demo.students.len()), ("demo", 24));
    for edition in Edition::ALL {
        assert!(demo.students.iter().any(|student| student.edition == Some(edition)));
    }
    assert!(demo.students.iter().any(|student| student.large));
}

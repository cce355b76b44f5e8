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
    assert_eq!(roster.students[roster.order()[0]].id, "2", "{name}: seat A1 comes before A2");
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
        ("tabs", tabs.clone().into_bytes()),
        ("commas", commas.into_bytes()),
        ("named delimiter", format!("sep=;\r\n{TABLE}").into_bytes()),
        ("named tab", format!("SEP=\t\r\n{tabs}").into_bytes()),
        ("UTF-16 big without mark", utf16(true)[2..].to_vec()),
        ("carriage returns alone", TABLE.replace("\r\n", "\r").into_bytes()),
        ("empty columns behind", TABLE.replace("\r\n", ";;\r\n").into_bytes()),
    ] {
        let (roster, notices) = read(&bytes).unwrap_or_else(|problems| panic!("{name}: {problems:?}"));
        assert_table(&roster, name);
        assert_eq!(roster.name, "9b");
        assert!(notices.is_empty(), "{name}: {notices:?}");
    }
    let (roster, notices) = read(b"name\nJ\xFCrgen Stra\xDFer\n").expect("Windows-1252");
    assert_eq!(roster.students[0].name, "Jürgen Straßer");
    assert_eq!(notices.len(), 1, "{notices:?}");
    assert!(notices[0].level == Level::Notice && notices[0].message.contains("read as Windows-1252"), "{notices:?}");
    let Some(Place::Text(source, span)) = &notices[0].place else { panic!("no place") };
    assert_eq!(&source.text[span.clone()], "ü");
}

/// Few zero bytes: the letters of other scripts have none.
#[test]
fn utf_16_without_a_mark_is_known_by_its_header() {
    let text = format!("id;name\r\n{}", (0..30).map(|id| format!("{id};Мария Āboliņa Ρένα\r\n")).collect::<String>());
    let bytes: Vec<u8> = text.encode_utf16().flat_map(u16::to_le_bytes).collect();
    let (roster, _) = read(&bytes).expect("UTF-16");
    assert_eq!((roster.students.len(), roster.students[29].name.as_str()), (30, "Мария Āboliņa Ρένα"));
}

/// The last corner of a sheet: as a full table this would be 17 000 million cells.
#[test]
fn a_lost_cell_in_a_far_corner_is_a_located_fault() {
    let dir = TempDir::new().expect("a temporary folder");
    let path = dir.path().join("9b.xlsx");
    let mut book = rust_xlsxwriter::Workbook::new();
    let sheet = book.add_worksheet();
    sheet.write(0, 0, "name").expect("a cell");
    sheet.write(1, 0, "Ann").expect("a cell");
    sheet.write(1_048_575, 16_383, "lost").expect("a cell");
    book.save(&path).expect("a workbook");
    let problems = class::read(&path).expect_err("a lost cell");
    let lost = problems.iter().find(|problem| problem.message.contains("`lost`")).expect("named");
    assert!(matches!(&lost.place, Some(Place::Cell(_, _, address)) if address == "XFD1048576"), "{lost:?}");
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
        ("id,name\n1,Ann\n1,Bea\n", 3, 1, "a second student with the id `1`, after line 2"),
        ("name\nAnn\nBea\nAnn\n", 4, 1, "a second student with the name `Ann`, after line 2"),
        ("id,name\nBea,Ann\n,Bea\n", 3, 2, "a second student with the name `Bea`, after line 2"),
        ("id,name\n1,\n", 2, 3, "the name is empty"),
        ("id,name\n1\n", 2, 1, "the name is empty"),
        ("id,name\n1,  \n", 2, 3, "the name is empty"),
        ("name,edition\nAnn,cor\n", 2, 5, "unknown edition `cor`"),
        ("name;lang\nÄnn;xx\n", 2, 5, "unknown language `xx`"),
        ("name,print\nAnn,huge\n", 2, 5, "unknown print `huge`"),
        ("name,seat\nAnn,4B\n", 2, 5, "no seat `4B`"),
        ("name,seat\nAnn,B0\n", 2, 5, "no seat `B0`"),
        ("name,seat\nAnn,B-4\n", 2, 5, "no seat `B-4`"),
        ("name,seat\nAnn,Ä4\n", 2, 5, "no seat `Ä4`"),
        ("name,seat\nAnn,B4\nBea,b4\n", 3, 5, "a second student on seat `b4`, after line 2"),
        ("name,name\nAnn,Bea\n", 1, 6, "the column `name` stands twice"),
        ("vorname,klasse\nAnn,9b\n", 1, 1, "the class file has no column `name`"),
        ("name\n", 1, 1, "the class file has no students"),
        ("id,name\n1,Falkner, Ann\n", 2, 11, "a cell without a column `Ann`"),
        ("name,\nFalkner, Ann\n", 2, 9, "a cell without a column `Ann`"),
        ("id,name\n1\u{7},Ann\n", 2, 1, "a control character in `1`"),
        ("name,group\nAnn,a\u{1b}b\n", 2, 5, "a control character in `a`"),
        ("name\n\"Ann\nBea\"\n", 2, 1, "a line end in `Ann`"),
        ("name\nA\u{fffd}nn\n", 2, 1, "a lost letter in `A`"),
        ("name,seat\nAnn,A1\n\"Bea,A2\nCem,A3\n", 3, 1, "a quote is not closed"),
        ("name,seat\nAnn,A1\nBea,\"", 3, 5, "a quote is not closed"),
        // Quotes and places: only a quote at the start of a cell holds delimiters together.
        ("name,edition,seat\n5\" Al,core,Z\n", 2, 12, "no seat `Z`"),
        ("name,edition,seat\n\"Al \"\"B\"\", C\",core,Z\n", 2, 20, "no seat `Z`"),
        ("sep=,\r\n\r\nname,seat\r\n\r\n  \r\nAnn,Z\r\n", 6, 5, "no seat `Z`"),
        ("name;seat\rAnn;A1\rBea;Z\r", 3, 5, "no seat `Z`"),
    ] {
        let problems = read(text.as_bytes()).expect_err(text);
        let problem = problems.iter().find(|problem| problem.level == Level::Error).expect(text);
        assert!(problem.message.contains(message), "{text}: {}", problem.message);
        let Some(Place::Text(source, span)) = &problem.place else { panic!("{text}: no place") };
        assert_eq!(source.line_column(span.start), (line, column), "{text}");
        assert!(problem.hint.is_some(), "{text}");
        assert!(!problem.message.chars().any(char::is_control), "{text}: {:?}", problem.message);
    }
}

#[test]
fn a_place_holds_the_whole_cell_with_its_quotes() {
    let text = "name,seat,lang\nAnn,\"Z, 9\",en\n";
    let problems = read(text.as_bytes()).expect_err("no seat");
    let Some(Place::Text(source, span)) = &problems[0].place else { panic!("no place") };
    assert_eq!(&source.text[span.clone()], "\"Z, 9\"");
}

#[test]
fn the_first_of_two_is_shown_too() {
    for text in ["name,seat\nAnn,B4\nBea,B4\n", "name,seat,seat\nAnn,B4,C4\n", "id,name\n1,Ann\n1,Bea\n"] {
        let problems = read(text.as_bytes()).expect_err(text);
        let Some((Place::Text(_, first), _)) = problems[0].also.first() else { panic!("{text}: no first place") };
        let Some(Place::Text(_, second)) = &problems[0].place else { panic!("{text}: no place") };
        assert!(first.end < second.start, "{text}");
    }
}

/// Rows before an open quote are still checked, and nothing is said of a class without students.
#[test]
fn an_open_quote_hides_no_other_fault() {
    let problems = read(b"name,seat\nAnn,Z\n\"Bea,A2\n").expect_err("two faults");
    assert_eq!(problems.len(), 2, "{problems:?}");
    assert_eq!(read(b"name,seat\n\"Bea,A2\n").expect_err("one fault").len(), 1);
    assert_eq!(read(b"\"name,seat\nBea,A2\n").expect_err("one fault").len(), 1);
}

#[test]
fn all_faults_come_at_once_and_unknown_columns_are_only_noticed() {
    let problems = read(b"name,edition,seat\n,core,A1\nBea,corr,A1\nCem,core,99\n").expect_err("four faults");
    assert_eq!(problems.len(), 4, "{problems:?}");
    let (_, notices) = read(b"name,birthday,sat\nAnn,1.1.,B4\n").expect("a class");
    assert_eq!(notices.len(), 2);
    assert!(notices[1].hint.as_ref().expect("a hint").contains("`seat`"));
}

/// A file that is said to be longer than any class list; a sparse one, so that no disk is filled.
fn huge(dir: &TempDir) -> PathBuf {
    let path = file(dir, "huge.csv", b"name\n");
    let opened = std::fs::OpenOptions::new().write(true).open(&path).expect("a file");
    opened.set_len(100_000_001).expect("a sparse file");
    path
}

/// It states no length and never ends.
#[cfg(target_os = "linux")]
#[test]
fn an_endless_device_is_refused() {
    let problems = class::read(std::path::Path::new("/dev/zero")).expect_err("endless");
    assert!(problems[0].message.contains("more than 100 MB"), "{problems:?}");
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
        (file(&dir, "bad.ods", b"no workbook"), "the workbook can not be read"),
        (file(&dir, "blank.csv", b"\xEF\xBB\xBF\r\n ;;\r\n"), "is empty"),
        (file(&dir, "picture.csv", b"\x89PNG\r\n\x1a\n\0\0\0\rIHDR"), "is not a text"),
        (huge(&dir), "more than 100 MB"),
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
    assert!(demo.students.iter().any(|student| student.lang.as_deref() == Some("de")));
    let seats: Vec<String> =
        demo.order().iter().filter_map(|&place| demo.students[place].seat).map(|seat| seat.to_string()).collect();
    let grid: Vec<String> = ('A'..='F').flat_map(|row| (1..=4).map(move |number| format!("{row}{number}"))).collect();
    assert_eq!(seats, grid);
}

#[test]
fn students_without_a_seat_come_last_in_the_order_of_the_file() {
    let (roster, _) = read(b"name,seat\nAnn,\nBea,B10\nCem,\nDag,B9\nEla,A11\n").expect("a class");
    let order: Vec<&str> = roster.order().iter().map(|&place| roster.students[place].name.as_str()).collect();
    assert_eq!(order, ["Ela", "Dag", "Bea", "Ann", "Cem"]);
}

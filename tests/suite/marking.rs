//! Marking. In: sets made here, forms filled in with known answers. Out: pass or fail.

use std::{fmt::Write, path::Path};

use labquire::commands::Ending;
use proptest::prelude::*;
use serde_json::Value;
use tempfile::TempDir;

use crate::set::labquire;

/// A class set of the experiment for these rows of a class file; its record.
fn set(dir: &Path, experiment: &str, class: &str) -> Value {
    let file = dir.join("class.csv");
    std::fs::write(&file, class).expect("a class file");
    let (file, out) = (file.to_str().expect("text"), dir.join("set"));
    let out = out.to_str().expect("text");
    let (ending, _, err) =
        labquire(&["make", experiment, "--class", file, "--seed", "marking", "--pdf", "plain", "--out", out]);
    assert_eq!(ending, Ending::Done, "{err}");
    serde_json::from_slice(&std::fs::read(dir.join("set/set.json")).expect("a record")).expect("JSON")
}

/// The right entry for a task of a student; nothing where the sheet lacks the task.
fn right(record: &Value, student: usize, task: &str) -> Option<String> {
    let about = record["tasks"].as_array().expect("tasks").iter().find(|one| one["id"] == task).expect(task);
    let student = &record["students"][student];
    let editions = about["editions"].as_array().expect("editions");
    editions.contains(&student["edition"]).then(|| match about["kind"].as_str() {
        Some("number") => student["answers"][task]["text"].as_str().expect("a text").to_owned(),
        _ => about["marks"].to_string(),
    })
}

/// A form with right answers, some cells changed; fields are set apart by `sign`.
fn form(record: &Value, changes: &[(usize, &str, String)], sign: char) -> String {
    let tasks: Vec<&str> =
        record["tasks"].as_array().expect("tasks").iter().map(|task| task["id"].as_str().expect("an id")).collect();
    let sign = sign.to_string();
    let mut text = format!("id{sign}name{sign}{}{sign}code{sign}override{sign}reason\n", tasks.join(&sign));
    for (place, student) in record["students"].as_array().expect("students").iter().enumerate() {
        let changed = |column: &str| {
            changes.iter().find(|(own, name, _)| *own == place && *name == column).map(|(.., cell)| cell.clone())
        };
        let mut cells = vec![student["id"].as_str().expect("an id").to_owned(), String::new()];
        for task in &tasks {
            cells.push(changed(task).or_else(|| right(record, place, task)).unwrap_or_else(|| "x".to_owned()));
        }
        cells.extend(["code", "override", "reason"].map(|column| changed(column).unwrap_or_default()));
        let quoted = cells.iter().map(|cell| format!("\"{}\"", cell.replace('"', "\"\"")));
        writeln!(text, "{}", quoted.collect::<Vec<_>>().join(&sign)).expect("a string");
    }
    text
}

/// The same form as a workbook.
fn workbook(dir: &Path, form: &str, sign: char) -> std::path::PathBuf {
    let mut book = rust_xlsxwriter::Workbook::new();
    let sheet = book.add_worksheet();
    let mut reader = csv::ReaderBuilder::new().has_headers(false).delimiter(sign as u8).from_reader(form.as_bytes());
    for (row, record) in (0..).zip(reader.records()) {
        for (column, cell) in (0..).zip(&record.expect("a row")) {
            sheet.write_string(row, column, cell).expect("a cell");
        }
    }
    let file = dir.join("answers.xlsx");
    book.save(&file).expect("a workbook");
    file
}

/// The marks for a form, as JSON.
fn marks(dir: &Path, form: &str, lang: &str) -> Result<Value, String> {
    let file = dir.join("answers.csv");
    std::fs::write(&file, form).expect("a form");
    marks_of(dir, &file, lang)
}

fn marks_of(dir: &Path, file: &Path, lang: &str) -> Result<Value, String> {
    let folder = dir.join("set");
    let words =
        ["mark", folder.to_str().expect("text"), "--answers", file.to_str().expect("text"), "--json", "--lang", lang];
    let (ending, out, err) = labquire(&words);
    if ending == Ending::Done { Ok(serde_json::from_str(&out).expect("JSON")) } else { Err(err) }
}

fn verdict<'v>(marks: &'v Value, student: usize, task: &str) -> (&'v str, u64, &'v str) {
    let found = &marks["students"][student]["tasks"][task];
    (
        found["verdict"].as_str().expect("a verdict"),
        found["got"].as_u64().expect("marks"),
        found["why"].as_str().expect("why"),
    )
}

/// The number in an answer's text such as `12.3 K`.
fn number(text: &str) -> f64 {
    text.split(' ').next().and_then(|number| number.parse().ok()).expect("a number")
}

const CLASS: &str = "id,name,edition,lang\n1,A,core,\n2,B,core,\n3,C,core,\n4,D,core,\n5,E,core,\n6,F,core,\n7,G,extension,\n8,H,core,\n9,I,core,\n";

#[test]
fn right_answers_earn_all_marks() {
    let dir = TempDir::new().expect("a temporary folder");
    let record = set(dir.path(), "pumped-loop", CLASS);
    let marks = marks(dir.path(), &form(&record, &[], ','), "en").expect("marked");
    for student in marks["students"].as_array().expect("students") {
        assert_eq!(student["total"], student["out_of"], "{student}");
    }
    for file in ["marks.csv", "typed.csv"] {
        assert!(dir.path().join("set/marked").join(file).is_file(), "{file}");
    }
}

/// Each kind of error, planted in a class, is found as it was planted; in English with commas, in German with semicolons
/// and decimal commas, from csv and from a workbook, among thirty students.
#[test]
fn planted_errors_are_found() {
    let dir = TempDir::new().expect("a temporary folder");
    let others: String = (10..=30).map(|id| format!("{id},N{id},core,\n")).collect();
    let record = set(dir.path(), "pumped-loop", &format!("{CLASS}{others}"));
    let answer = |student: usize, task: &str| number(&right(&record, student, task).expect("asked"));
    for (lang, sign, decimal) in [("en", ',', '.'), ("de", ';', ',')] {
        let write = |value: f64, unit: &str| format!("{value:.4} {unit}").replace('.', &decimal.to_string());
        let figures = |value: f64, figures: usize, unit: &str| {
            let places = (figures as i32 - 1 - value.abs().log10().floor() as i32).max(0) as usize;
            format!("{value:.places$} {unit}").replace('.', &decimal.to_string())
        };
        let heat = answer(0, "heat") * 1.35;
        let changes = [
            (0, "heat", figures(heat, 3, "kJ")),
            // Twelve minutes.
            (0, "power", figures(heat * 1000.0 / 720.0, 3, "W")),
            (1, "heat", figures(answer(1, "heat"), 3, "J")),
            (2, "heat", figures(answer(2, "heat"), 3, "?")),
            (3, "heat", format!("{:.1} kJ", answer(3, "heat") * 1000.0).replace('.', &decimal.to_string())),
            (4, "power", write(answer(4, "power"), "W").replace(" W", "000 W")),
            // Minutes not turned into seconds: a listed slip.
            (5, "power", figures(answer(5, "heat") * 1000.0 / 12.0, 3, "W")),
            (6, "heat", figures(answer(6, "heat"), 3, "")),
            (7, "heat", "-".to_owned()),
            (7, "curve", "1010".to_owned()),
            (8, "heat", figures(answer(8, "heat") * 1.17, 3, "kJ")),
        ];
        let typed = form(&record, &changes, sign);
        let marks = marks(dir.path(), &typed, lang).expect("marked");
        let book = workbook(dir.path(), &typed, sign);
        assert_eq!(marks, marks_of(dir.path(), &book, lang).expect("marked"), "a workbook is marked as the csv is");
        assert_eq!(marks["students"].as_array().expect("students").len(), 30);
        let found = |student: usize, task: &str| {
            let (verdict, got, _) = verdict(&marks, student, task);
            (verdict.to_owned(), got)
        };
        let expect = |word: &str, got: u64| (word.to_owned(), got);
        assert_eq!(found(0, "heat"), expect("wrong", 0), "{lang}");
        assert_eq!(found(0, "power"), expect("follow-through", 3), "{lang}");
        assert_eq!(found(1, "heat"), expect("unit", 2), "{lang}");
        assert_eq!(found(2, "heat"), expect("unit", 2), "{lang}");
        assert_eq!(found(3, "heat"), expect("power-of-ten", 2), "{lang}");
        assert_eq!(found(4, "power"), expect("figures", 3), "{lang}");
        assert_eq!(found(5, "power"), expect("wrong", 0), "{lang}");
        let slip = verdict(&marks, 5, "power").2;
        let says =
            if lang == "en" { "minutes not turned into seconds" } else { "Minuten nicht in Sekunden umgerechnet" };
        assert!(slip.contains(says), "{slip}");
        // The extension leaves the unit to the student.
        assert_eq!(found(6, "heat"), expect("unit", 2), "{lang}");
        assert_eq!(found(7, "heat"), expect("none", 0), "{lang}");
        assert_eq!(found(7, "curve"), expect("wrong", 2), "{lang}");
        assert_eq!(found(8, "heat"), expect("wrong", 0), "{lang}");
        // What nobody planted is right.
        let planted = changes.iter().map(|(student, task, _)| (*student, *task)).collect::<Vec<_>>();
        for (student, about) in marks["students"].as_array().expect("students").iter().enumerate() {
            for (task, attempt) in about["tasks"].as_object().expect("tasks") {
                assert!(attempt["got"].as_u64() <= attempt["of"].as_u64());
                let right = attempt["verdict"] == "right";
                assert!(right != planted.contains(&(student, task.as_str())), "{lang} {student} {task}: {attempt}");
            }
        }
    }
}

/// Errors are followed over several steps, and over a step that was left out.
#[test]
fn errors_are_followed_over_any_number_of_steps() {
    let dir = TempDir::new().expect("a temporary folder");
    let record = set(dir.path(), "pumped-loop", CLASS);
    let answer = |task: &str| number(&right(&record, 0, task).expect("asked"));
    let rise = (answer("rise") * 1.4 * 10.0).round() / 10.0;
    let factor = rise / answer("rise");
    let changes = [
        (0, "rise", format!("{rise:.1} K")),
        (0, "heat", String::new()),
        (0, "power", format!("{:.1} W", answer("power") * factor)),
        (0, "efficiency", format!("{:.1} %", answer("efficiency") * factor)),
    ];
    let marks = marks(dir.path(), &form(&record, &changes, ','), "en").expect("marked");
    assert_eq!(verdict(&marks, 0, "rise").0, "wrong");
    assert_eq!(verdict(&marks, 0, "heat").0, "none");
    assert_eq!(verdict(&marks, 0, "power").0, "follow-through");
    assert_eq!(verdict(&marks, 0, "efficiency").0, "follow-through");
    assert_eq!(verdict(&marks, 1, "power").0, "right");
}

/// A student who worked on a neighbour's sheet is marked by its code; a total by hand wins and keeps what was computed.
#[test]
fn codes_and_totals_by_hand_count() {
    let dir = TempDir::new().expect("a temporary folder");
    let record = set(dir.path(), "pumped-loop", CLASS);
    let code = record["students"][1]["code"].as_str().expect("a code").to_lowercase();
    let mut changes: Vec<(usize, &str, String)> = vec![(0, "code", code)];
    for task in ["rise", "heat", "power", "light", "efficiency", "limit", "loss", "pump", "share"] {
        changes.push((0, task, right(&record, 1, task).expect("asked")));
    }
    changes.extend([(2, "override", "7".to_owned()), (2, "reason", "came late".to_owned())]);
    let marks = marks(dir.path(), &form(&record, &changes, ','), "en").expect("marked");
    let students = &marks["students"];
    assert_eq!(students[0]["total"], students[0]["out_of"]);
    assert_eq!(students[0]["code"], record["students"][1]["code"]);
    assert_eq!(
        (&students[2]["total"], &students[2]["override"]["reason"]),
        (&Value::from(7), &Value::from("came late"))
    );
    let csv = std::fs::read_to_string(dir.path().join("set/marked/marks.csv")).expect("marks");
    assert!(csv.lines().any(|line| line.starts_with("3,") && line.ends_with("7,33,7,came late")), "{csv}");
}

/// Marking again replaces the results whole; a set that is added to keeps them, and one that is made anew is not made over them.
#[test]
fn marks_survive() {
    let dir = TempDir::new().expect("a temporary folder");
    let record = set(dir.path(), "pumped-loop", CLASS);
    let wrong = [(0, "heat", "1.23 kJ".to_owned())];
    let first = marks(dir.path(), &form(&record, &wrong, ','), "en").expect("marked");
    assert_eq!(verdict(&first, 0, "heat").0, "wrong");
    let again = form(&record, &[], ',');
    let second = marks(dir.path(), &again, "en").expect("marked");
    assert_eq!(verdict(&second, 0, "heat").0, "right");
    let marked = dir.path().join("set/marked");
    assert_eq!(std::fs::read_to_string(marked.join("typed.csv")).expect("typed"), again);
    for file in ["marks.csv", "marks.xlsx", "feedback.pdf", "report.pdf"] {
        assert!(marked.join(file).is_file(), "{file}");
    }
    let (class, out) = (dir.path().join("class.csv"), dir.path().join("set"));
    let (class, out) = (class.to_str().expect("text"), out.to_str().expect("text"));
    let (ending, _, err) = labquire(&["make", "pumped-loop", "--class", class, "--out", out, "--force"]);
    assert!(ending == Ending::Input && err.contains("has been marked"), "{err}");
    std::fs::write(class, format!("{CLASS}10,New,core,\n")).expect("a class file");
    let (ending, _, err) = labquire(&["make", "pumped-loop", "--class", class, "--extend", out, "--pdf", "plain"]);
    assert_eq!(ending, Ending::Done, "{err}");
    assert_eq!(std::fs::read_to_string(marked.join("typed.csv")).expect("typed"), again, "kept");
}

/// Everything that can't be read is told at once, with its place; then nothing is marked.
#[test]
fn what_cannot_be_read_is_told_with_its_place() {
    let dir = TempDir::new().expect("a temporary folder");
    let record = set(dir.path(), "pumped-loop", CLASS);
    let changes = [
        (0, "heat", "03.04.2026".to_owned()),
        (1, "heat", "3. Apr".to_owned()),
        (2, "heat", "about five".to_owned()),
        (3, "heat", "5 quarks".to_owned()),
        (4, "curve", "5".to_owned()),
        (5, "code", "K7Q2-M9XX".to_owned()),
        (6, "override", "99".to_owned()),
        (7, "tau", "12 min".to_owned()),
    ];
    let told = marks(dir.path(), &form(&record, &changes, ','), "en").expect_err("refused");
    for wanted in [
        "is a date",
        "`about five` is no number",
        "`quarks` behind the number",
        "neither a count",
        "is no code",
        "no total",
        "has no task `tau`",
    ] {
        assert!(told.contains(wanted), "{wanted} in {told}");
    }
    assert_eq!(told.matches("--> ").count(), changes.len(), "{told}");
    assert!(!dir.path().join("set/marked").exists(), "nothing is marked by guess");
}

/// Writings of the number that an answer prints, all of which mean the same.
fn writings(plain: &str, unit: &str) -> Vec<String> {
    let value: f64 = plain.parse().expect("a number");
    let comma = plain.replace('.', ",");
    let power = value.abs().log10().floor() as i32;
    let digits = plain.chars().filter(char::is_ascii_digit).collect::<String>();
    let digits = digits.trim_start_matches('0');
    let mantissa = match digits.split_at_checked(1) {
        Some((first, rest)) if !rest.is_empty() => format!("{first}.{rest}"),
        _ => digits.to_owned(),
    };
    let sign = if value < 0.0 { "-" } else { "" };
    let raised: String = power
        .to_string()
        .chars()
        .map(|digit| match digit {
            '-' => '⁻',
            digit => "⁰¹²³⁴⁵⁶⁷⁸⁹".chars().nth(digit as usize - '0' as usize).expect("a digit"),
        })
        .collect();
    let numbers = [
        plain.to_owned(),
        comma,
        format!("{sign}{mantissa}e{power}"),
        format!("{sign}{mantissa}E{power}"),
        format!("{sign}{mantissa}·10^{power}"),
        format!("{sign}{} x 10{raised}", mantissa.replace('.', ",")),
        format!("{sign}{mantissa}*10^{power}"),
        format!("\u{2212}{}", &plain[sign.len()..]).replacen(
            '\u{2212}',
            if sign.is_empty() { "+" } else { "\u{2212}" },
            1,
        ),
    ];
    let units = [format!(" {unit}"), unit.to_owned(), format!("\u{202F}{unit}")];
    numbers.iter().flat_map(|number| units.iter().map(move |unit| format!("{number}{unit}"))).collect()
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 4, ..ProptestConfig::default() })]

    /// A thousand right answers and more, written in every allowed way, earn full marks.
    #[test]
    fn right_answers_in_every_writing_earn_full_marks(choice in prop::collection::vec(0_usize..1000, 40)) {
        let dir = TempDir::new().expect("a temporary folder");
        for experiment in ["pumped-loop", "mixing", "module-load"] {
            let record = set(dir.path(), experiment, CLASS);
            let mut changes = Vec::new();
            let names: Vec<String> = record["tasks"].as_array().expect("tasks").iter()
                .filter(|task| task["kind"] == "number")
                .map(|task| task["id"].as_str().expect("an id").to_owned())
                .collect();
            for student in 0..9 {
                for (place, task) in names.iter().enumerate() {
                    let Some(text) = right(&record, student, task) else { continue };
                    let (plain, unit) = text.split_once(' ').unwrap_or((&text, ""));
                    let ways = writings(plain, unit);
                    let way = choice[(student * 7 + place) % choice.len()] % ways.len();
                    changes.push((student, task.as_str(), ways[way].clone()));
                }
            }
            prop_assert!(changes.len() > 40, "{} answers", changes.len());
            let marks = marks(dir.path(), &form(&record, &changes, ';'), "en").expect("marked");
            for student in marks["students"].as_array().expect("students") {
                prop_assert_eq!(&student["total"], &student["out_of"], "{}: {}", experiment, student);
            }
            std::fs::remove_dir_all(dir.path().join("set")).expect("a set");
        }
    }
}

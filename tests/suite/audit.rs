//! The audit of a set: what copying earns is added up here from the record alone; a set and its class say the same.

use std::path::Path;

use labquire::commands::Ending;
use serde_json::Value;
use tempfile::TempDir;

use crate::set::labquire;

/// Prints a set of eight students; gives the class file and the set's folder.
fn set(dir: &Path) -> (String, String) {
    let (file, out) = (dir.join("class.csv"), dir.join("set"));
    let rows: String = (1..=8).map(|id| format!("{id},Student {id}\n")).collect();
    std::fs::write(&file, format!("id,name\n{rows}")).expect("a class file");
    let text = |path: &Path| path.to_str().expect("text").to_owned();
    let (file, out) = (text(&file), text(&out));
    let (ending, _, err) =
        labquire(&["make", "mixing", "--class", &file, "--seed", "fixed", "--pdf", "plain", "--out", &out]);
    assert_eq!(ending, Ending::Done, "{err}");
    (file, out)
}

fn audit(words: &[&str]) -> Value {
    let (ending, out, err) = labquire(&[&["audit", "--json"], words].concat());
    assert_eq!(ending, Ending::Done, "{err}");
    serde_json::from_str(&out).expect("JSON")
}

/// The share of numeric marks that one student's recorded answers earn within another's recorded ranges.
///
/// What is copied is the printed answer, or what the calculator shows before it is rounded: either counts.
fn share(from: &Value, on: &Value) -> f64 {
    let (mut earned, mut all) = (0.0, 0.0);
    for (task, answer) in on["answers"].as_object().expect("answers") {
        let Some(accept) = answer.get("accept") else { continue };
        let marks = answer["marks"].as_f64().expect("marks");
        let source = &from["answers"][task.as_str()];
        let full = source["value"].as_f64().expect("a value");
        let text = source["text"].as_str().expect("a text");
        let printed: f64 =
            text.split_whitespace().next().and_then(|word| word.parse().ok()).expect("a number in front of the unit");
        let end = |place: usize| accept[place].as_f64().expect("an end");
        all += marks;
        earned += if [full, printed].iter().any(|copied| (end(0)..=end(1)).contains(copied)) { marks } else { 0.0 };
    }
    earned / all
}

#[test]
fn shares_are_those_of_the_record_and_a_set_says_the_same_as_its_class() {
    let dir = TempDir::new().expect("a temporary folder");
    let (file, out) = set(dir.path());
    let record = std::fs::read(Path::new(&out).join("set.json")).expect("a record");
    let record: Value = serde_json::from_slice(&record).expect("JSON");
    let of_set = audit(&[&out]);
    let edition = &of_set["editions"][0];
    assert_eq!(
        (of_set["editions"].as_array().map(Vec::len), &edition["edition"]),
        (Some(1), &record["students"][0]["edition"])
    );
    let sheets = edition["sheets"].as_array().expect("sheets");
    assert_eq!(sheets.len(), 8);
    let students = record["students"].as_array().expect("students");
    let student = |id: &Value| students.iter().find(|student| student["id"] == *id).expect("in the record");
    let (mut sum, mut most, mut above) = (0.0, 0.0_f64, 0);
    for (from, source) in sheets.iter().enumerate() {
        for (on, sheet) in sheets.iter().enumerate().filter(|(on, _)| *on != from) {
            let own = share(student(source), student(sheet));
            let told = edition["pairs"]["shares"][from][on].as_f64().expect("a share");
            assert!((own - told).abs() < 1e-9, "{source} on {sheet}: {own}, told {told}");
            sum += own;
            most = most.max(own);
            above += usize::from(own > 0.2 + 1e-9);
        }
    }
    assert!(sum > 0.0, "nobody's answer counts anywhere: the test shows nothing");
    let pairs = &edition["pairs"];
    assert_eq!((pairs["count"].as_u64(), pairs["above"].as_u64()), (Some(56), Some(above as u64)));
    assert!((pairs["mean"].as_f64().expect("a mean") - sum / 56.0).abs() < 1e-9);
    assert!((pairs["most"].as_f64().expect("the most") - most).abs() < 1e-9);

    let pdf = dir.path().join("audit.pdf");
    let pdf = pdf.to_str().expect("text");
    let of_class = audit(&["mixing", "--class", &file, "--seed", "fixed", "--out", pdf]);
    assert_eq!(of_class["editions"], of_set["editions"]);
    for pdf in [Path::new(pdf), &Path::new(&out).join("audit.pdf")] {
        let bytes = std::fs::read(pdf).expect("pages");
        assert!(bytes.starts_with(b"%PDF-"), "{}", pdf.display());
        let described = bytes.windows(5).filter(|part| *part == b"/Alt<").count();
        let strips = edition["tasks"].as_array().expect("tasks").len();
        assert!(
            described > strips,
            "{described} pictures are described, but there are {strips} strips and the field of pairs"
        );
    }
}

#[test]
fn a_folder_without_a_set_and_an_unknown_experiment_are_refused_by_name() {
    let dir = TempDir::new().expect("a temporary folder");
    let folder = dir.path().to_str().expect("text");
    let (ending, out, err) = labquire(&["audit", folder]);
    assert_eq!((ending, out.as_str()), (Ending::Input, ""));
    assert!(err.contains("set.json"), "{err}");
    assert!(!dir.path().join("audit.pdf").exists());
    let (ending, _, err) = labquire(&["audit", "mixin"]);
    assert_eq!(ending, Ending::Input);
    assert!(err.contains("`mixing`"), "{err}");
}

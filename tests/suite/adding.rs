//! Printed sets that are added to: what is recorded stays, the whole is within the limit, and nothing is lost.

use std::path::Path;

use labquire::commands::Ending;
use serde_json::Value;
use tempfile::TempDir;

use crate::set::labquire;

/// Makes a set in `dir`, or adds to the one that is named; gives the ending, the record and what was said.
pub(crate) fn make(dir: &Path, words: &[&str]) -> (Ending, Value, String) {
    let out = dir.join("set");
    let mut line = vec!["make", "--pdf", "plain"];
    line.extend(words);
    let out_text = out.to_str().expect("text").to_owned();
    if !words.contains(&"--extend") {
        line.extend(["--out", &out_text]);
    }
    let (ending, _, err) = labquire(&line);
    let record =
        std::fs::read(out.join("set.json")).map_or(Value::Null, |bytes| serde_json::from_slice(&bytes).expect("JSON"));
    (ending, record, err)
}

fn write_class(dir: &Path, ids: &[&str]) -> String {
    let file = dir.join("class.csv");
    let rows: String = ids.iter().map(|id| format!("{id},Student {id}\n")).collect();
    std::fs::write(&file, format!("id,name\n{rows}")).expect("a class file");
    file.to_str().expect("text").to_owned()
}

fn student<'a>(record: &'a Value, id: &str) -> &'a Value {
    record["students"].as_array().expect("students").iter().find(|student| student["id"] == id).expect(id)
}

/// Students are added in front of the others, where a set made anew would move them: all that was printed stays.
#[test]
fn a_printed_set_is_added_to_and_stays_as_it_is() {
    let dir = TempDir::new().expect("a temporary folder");
    let old: Vec<String> = (10..=24).map(|id| id.to_string()).collect();
    let old: Vec<&str> = old.iter().map(String::as_str).collect();
    let file = write_class(dir.path(), &old);
    let (ending, before, err) = make(dir.path(), &["cooling-curve", "--class", &file, "--seed", "fixed"]);
    assert_eq!(ending, Ending::Done, "{err}");
    let new = ["1", "2", "3", "10", "11"];
    let file = write_class(dir.path(), &new);
    let folder = dir.path().join("set");
    let (ending, after, err) =
        make(dir.path(), &["cooling-curve", "--class", &file, "--extend", folder.to_str().expect("text")]);
    assert_eq!((ending, err.as_str()), (Ending::Done, ""), "nothing to warn of");
    assert_eq!(after["students"].as_array().expect("students").len(), 18);
    assert_eq!(after["seed"], "fixed");
    for id in old {
        assert_eq!(student(&before, id), student(&after, id), "{id}");
    }
    let codes: std::collections::BTreeSet<String> =
        after["students"].as_array().expect("students").iter().map(|student| student["code"].to_string()).collect();
    assert_eq!(codes.len(), 18);
    // The whole is within the limit all the same.
    let total = |student: &Value| -> f64 {
        student["answers"]
            .as_object()
            .expect("answers")
            .values()
            .filter(|one| one.get("accept").is_some())
            .map(|one| one["marks"].as_f64().expect("marks"))
            .sum()
    };
    let earned = |from: &Value, on: &Value| -> f64 {
        let answers = on["answers"].as_object().expect("answers").iter().filter(|(_, one)| one.get("accept").is_some());
        answers
            .filter(|(task, one)| {
                let copied = from["answers"][task.as_str()]["value"].as_f64().expect("a value");
                let end = |place: usize| one["accept"][place].as_f64().expect("an end");
                (end(0)..=end(1)).contains(&copied)
            })
            .map(|(_, one)| one["marks"].as_f64().expect("marks"))
            .sum()
    };
    let students = after["students"].as_array().expect("students");
    for from in students {
        for on in students.iter().filter(|on| on["id"] != from["id"]) {
            assert!(earned(from, on) <= 0.2 * total(on) + 1e-9, "{} on {}", from["id"], on["id"]);
        }
    }
}

/// One sheet of a set that was added to can only be had from its record: it is printed beside the set, which stays whole.
#[test]
fn a_lost_sheet_is_printed_again_from_the_record() {
    let dir = TempDir::new().expect("a temporary folder");
    let file = write_class(dir.path(), &["7", "8", "9"]);
    let (_, before, _) = make(dir.path(), &["mixing", "--class", &file]);
    let folder = dir.path().join("set");
    let text = folder.to_str().expect("text");
    let code = student(&before, "8")["code"].as_str().expect("a code");
    let (ending, after, err) = make(dir.path(), &["mixing", "--extend", text, "--only", code]);
    assert_eq!((ending, err.as_str()), (Ending::Done, ""));
    assert_eq!(after, before, "the set is as it was");
    let reprint = std::fs::read(dir.path().join("set-reprint/set.json")).expect("a record beside the set");
    let reprint: Value = serde_json::from_slice(&reprint).expect("JSON");
    assert_eq!(reprint["students"].as_array().expect("students"), &[student(&before, "8").clone()]);
}

#[test]
fn a_set_of_another_experiment_is_not_added_to() {
    let dir = TempDir::new().expect("a temporary folder");
    let file = write_class(dir.path(), &["1", "2"]);
    make(dir.path(), &["mixing", "--class", &file]);
    let folder = dir.path().join("set");
    let folder = folder.to_str().expect("text");
    let (ending, record, err) = make(dir.path(), &["cooling-curve", "--class", &file, "--extend", folder]);
    assert_eq!(ending, Ending::Input);
    assert!(err.contains("`mixing`") && err.contains("`cooling-curve`"), "{err}");
    assert_eq!(record["experiment"], "mixing", "nothing was touched");
}

#[test]
fn a_record_that_is_none_is_refused_with_its_place() {
    let dir = TempDir::new().expect("a temporary folder");
    let file = write_class(dir.path(), &["1", "2"]);
    let folder = dir.path().join("set");
    let text = folder.to_str().expect("text");
    let (ending, _, err) = make(dir.path(), &["mixing", "--class", &file, "--extend", text]);
    assert_eq!(ending, Ending::Input);
    assert!(err.contains("set.json") && err.contains("labquire make"), "{err}");
    std::fs::create_dir(&folder).expect("a folder");
    std::fs::write(folder.join("set.json"), "{\n  \"format\": 1,\n  \"seed\": 7 }").expect("a file");
    let (ending, _, err) = labquire(&["make", "mixing", "--class", &file, "--extend", text]);
    assert_eq!(ending, Ending::Input);
    assert!(err.contains("set.json:3:"), "{err}");
}

/// Sheets that had no room stay without room: the set that was added to says so as well.
#[test]
fn a_crowded_set_stays_a_crowded_one() {
    let dir = TempDir::new().expect("a temporary folder");
    let ids: Vec<String> = (1..=12).map(|id| id.to_string()).collect();
    let ids: Vec<&str> = ids.iter().map(String::as_str).collect();
    let file = write_class(dir.path(), &ids);
    let (_, before, err) =
        make(dir.path(), &["module-load", "--class", &file, "--edition", "support", "--copied", "5%"]);
    assert!(err.contains("sheets of the edition `support`") && err.contains("5 %"), "{err}");
    let folder = dir.path().join("set");
    let text = folder.to_str().expect("text");
    let file = write_class(dir.path(), &["13"]);
    let (ending, after, err) =
        make(dir.path(), &["module-load", "--class", &file, "--extend", text, "--edition", "support"]);
    assert_eq!(ending, Ending::Done);
    assert!(err.contains("of the 13 sheets") && err.contains("5 %"), "{err}");
    assert_eq!(after["copy_limit"], before["copy_limit"], "the limit is the set's own");
    let lacking = |record: &Value| {
        record["students"].as_array().expect("students").iter().filter(|student| student["apart"] == false).count()
    };
    assert!(lacking(&before) > 0 && lacking(&after) >= lacking(&before));
    // Another limit would not be that of the sheets which are printed.
    let words = ["make", "module-load", "--extend", text, "--copied", "20%"];
    assert_eq!(labquire(&words).0, Ending::Usage);
}

/// A record that breaks off in the middle of a sign of several bytes is refused like any other.
#[test]
fn a_record_that_breaks_off_is_refused() {
    let dir = TempDir::new().expect("a temporary folder");
    let folder = dir.path().join("set");
    std::fs::create_dir(&folder).expect("a folder");
    for text in ["{\n  \"format\": 1,\n  \"seed\": \"Übung", "{\"format\": 1, \"seed\": é}", ""] {
        std::fs::write(folder.join("set.json"), text).expect("a file");
        let (ending, _, err) = labquire(&["audit", folder.to_str().expect("text")]);
        assert_eq!(ending, Ending::Input, "{text}");
        assert!(err.contains("set.json:"), "{err}");
    }
}

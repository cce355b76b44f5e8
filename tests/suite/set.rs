//! Class sets: what is recorded, the same for ever, nobody moved by anybody.

use std::path::Path;

use labquire::commands::{Console, Ending, run};
use serde_json::Value;
use tempfile::TempDir;

/// Runs a command line; gives its ending, output and diagnostics.
pub(crate) fn labquire(words: &[&str]) -> (Ending, String, String) {
    let (mut out, mut err) = (Vec::new(), Vec::new());
    let line = std::iter::once("labquire").chain(words.iter().copied());
    let ending = run(line, &mut Console::new(&mut out, &mut err, false));
    (ending, String::from_utf8(out).expect("text"), String::from_utf8(err).expect("text"))
}

fn make(dir: &Path, class: &str, more: &[&str]) -> Value {
    let file = dir.join("class.csv");
    std::fs::write(&file, class).expect("a class file");
    let out = dir.join("set");
    let mut words =
        vec!["make", "pumped-loop", "--class", file.to_str().expect("text"), "--out", out.to_str().expect("text")];
    words.extend(["--seed", "fixed", "--force"]);
    words.extend(more);
    let (ending, _, err) = labquire(&words);
    assert_eq!(ending, Ending::Done, "{err}");
    serde_json::from_slice(&std::fs::read(out.join("set.json")).expect("a record")).expect("JSON")
}

fn student<'a>(record: &'a Value, id: &str) -> &'a Value {
    record["students"].as_array().expect("students").iter().find(|student| student["id"] == id).expect(id)
}

const CLASS: &str =
    "id,name,edition,lang,print\n1,Ann Falkner,core,,\n2,Žofia Łęcka,support,de,\n3,Ugo Bellandi,extension,,large\n";

#[test]
fn the_record_holds_what_others_rely_on() {
    let dir = TempDir::new().expect("a temporary folder");
    let record = make(dir.path(), CLASS, &[]);
    assert_eq!(record["format"], 1);
    assert_eq!(record["experiment"], "pumped-loop");
    assert_eq!(record["seed"], "fixed");
    assert_eq!(record["class"], "class");
    for file in ["worksheets.pdf", "keys.pdf", "grid.pdf", "teacher.pdf", "answers.csv", "set.json"] {
        assert!(dir.path().join("set").join(file).is_file(), "{file}");
    }
    let one = student(&record, "2");
    assert_eq!((one["edition"].as_str(), one["lang"].as_str()), (Some("support"), Some("de")));
    assert_eq!(one["parameters"]["m"]["unit"], "g");
    assert!(one["given"]["c"]["text"] == "4.18 kJ/(kg·K)", "{}", one["given"]["c"]);
    assert_eq!(one["readings"]["columns"][1]["label"], "T / °C");
    assert_eq!(one["readings"]["rows"].as_array().expect("rows").len(), 16);
    assert!(one["pages"].as_u64().expect("pages") >= 3);
    let heat = &one["answers"]["heat"];
    let (value, accept) = (heat["value"].as_f64().expect("a value"), &heat["accept"]);
    assert!(accept[0].as_f64().expect("from") < value && value < accept[1].as_f64().expect("to"));
    assert_eq!(heat["unit"], "kJ");
    assert!(one["answers"].get("loss").is_none(), "not in the support edition");
    assert!(one["answers"]["flattening"]["model"].as_str().expect("a model").contains("Platte"));
}

#[test]
fn nobody_is_moved_by_adding_removing_or_reordering() {
    let dir = TempDir::new().expect("a temporary folder");
    let before = make(dir.path(), CLASS, &[]);
    let after = make(
        dir.path(),
        "id,name,edition,print\n9,New Student,core,\n3,Ugo Bellandi,extension,large\n1,Ann Falkner,core,\n",
        &[],
    );
    for id in ["1", "3"] {
        for part in ["code", "parameters", "given", "readings", "answers"] {
            assert_eq!(student(&before, id)[part], student(&after, id)[part], "{part} of {id}");
        }
    }
    assert_ne!(student(&before, "1")["readings"], student(&before, "3")["readings"]);
}

#[test]
fn one_student_is_reprinted_as_in_the_whole_set() {
    let dir = TempDir::new().expect("a temporary folder");
    let whole = make(dir.path(), CLASS, &[]);
    let code = student(&whole, "3")["code"].as_str().expect("a code").to_owned();
    let one = make(dir.path(), CLASS, &["--only", &code]);
    assert_eq!(one["students"].as_array().expect("students").len(), 1);
    assert_eq!(student(&whole, "3"), student(&one, "3"));
}

#[test]
fn the_same_inputs_give_the_same_bytes() {
    let read = || {
        let dir = TempDir::new().expect("a temporary folder");
        make(dir.path(), CLASS, &["--split"]);
        let mut files: Vec<_> = ["worksheets.pdf", "keys.pdf", "grid.pdf", "teacher.pdf", "answers.csv", "set.json"]
            .map(|name| std::fs::read(dir.path().join("set").join(name)).expect(name))
            .to_vec();
        let students = dir.path().join("set/students");
        let mut names: Vec<_> =
            std::fs::read_dir(students).expect("a folder").map(|entry| entry.expect("a file").path()).collect();
        names.sort();
        assert_eq!(names.len(), 6);
        files.extend(names.iter().map(|path| std::fs::read(path).expect("a file")));
        files
    };
    assert!(read() == read(), "two runs differ");
}

#[test]
fn names_can_be_left_out() {
    let dir = TempDir::new().expect("a temporary folder");
    let record = make(dir.path(), CLASS, &["--no-names"]);
    let text = record.to_string();
    assert!(!text.contains("Falkner") && !text.contains("Bellandi"));
    let form = std::fs::read_to_string(dir.path().join("set/answers.csv")).expect("the form");
    assert!(!form.contains("Falkner"), "{form}");
}

#[test]
fn a_script_that_no_font_has_is_noticed_and_shown_by_its_id() {
    let dir = TempDir::new().expect("a temporary folder");
    let file = dir.path().join("class.csv");
    std::fs::write(&file, "id,name\nK-7,山田花子\n8,Ελένη Иванова\n").expect("a class file");
    let out = dir.path().join("set");
    let (ending, _, err) = labquire(&[
        "make",
        "pumped-loop",
        "--class",
        file.to_str().expect("text"),
        "--out",
        out.to_str().expect("text"),
    ]);
    assert_eq!(ending, Ending::Done, "{err}");
    assert!(err.contains("山") && err.contains("U+5C71") && err.contains("`K-7`"), "{err}");
    assert!(!err.contains("Ελένη"), "{err}");
}

#[test]
fn more_than_forty_students_are_bound_in_volumes() {
    let dir = TempDir::new().expect("a temporary folder");
    let class: String =
        std::iter::once("name\n".to_owned()).chain((1..=41).map(|number| format!("Student {number}\n"))).collect();
    make(dir.path(), &class, &["--pdf", "plain"]);
    for file in ["worksheets-01.pdf", "worksheets-02.pdf", "keys-01.pdf", "keys-02.pdf"] {
        assert!(dir.path().join("set").join(file).is_file(), "{file}");
    }
    assert!(!dir.path().join("set/worksheets.pdf").exists());
}

//! How a set is printed: sides, stapling, order, pictures, keys as text.

use std::path::Path;

use labquire::commands::Ending;
use serde_json::Value;
use tempfile::TempDir;

use crate::set::labquire;

const CLASS: &str =
    "id;name;edition;seat;print\n1;Zoe Ahrens;core;B1;\n2;Adam Zuber;support;A1;large\n3;Mia Noll;extension;A2;\n";

/// Makes the set of a class of three; gives its record.
fn make(dir: &Path, more: &[&str]) -> Value {
    let file = dir.join("class.csv");
    std::fs::write(&file, CLASS).expect("a class file");
    let out = dir.join("set");
    let mut words = vec!["make", "pumped-loop", "--pdf", "plain", "--force", "--class", file.to_str().expect("text")];
    words.extend(["--out", out.to_str().expect("text")]);
    words.extend(more);
    let (ending, _, err) = labquire(&words);
    assert_eq!(ending, Ending::Done, "{err}");
    serde_json::from_slice(&std::fs::read(out.join("set.json")).expect("a record")).expect("JSON")
}

/// The pages of a PDF, by the count in its page tree.
fn pages(file: &Path) -> usize {
    let bytes = std::fs::read(file).expect("a PDF");
    let text = String::from_utf8_lossy(&bytes);
    let (_, rest) = text.split_once("/Type/Pages/Count ").expect("a page tree");
    rest.split(|sign: char| !sign.is_ascii_digit()).next().expect("a count").parse().expect("a number")
}

#[test]
fn fillers_and_equal_lengths_are_as_asked_for() {
    let dir = TempDir::new().expect("a temporary folder");
    let worksheets = dir.path().join("set/worksheets.pdf");
    let record = make(dir.path(), &[]);
    let counts: Vec<usize> = record["students"]
        .as_array()
        .expect("students")
        .iter()
        .map(|student| student["pages"].as_u64().expect("pages") as usize)
        .collect();
    let most = counts.iter().max().expect("sheets");
    let (last, before) = counts.split_last().expect("sheets");
    let filled: usize = before.iter().map(|count| count.next_multiple_of(2)).sum();
    assert!(counts.iter().any(|count| count % 2 == 1) && counts.iter().any(|count| count != most), "{counts:?}");
    assert_eq!(pages(&worksheets), filled + last);
    make(dir.path(), &["--single-sided"]);
    assert_eq!(pages(&worksheets), counts.iter().sum::<usize>());
    make(dir.path(), &["--pad"]);
    assert_eq!(pages(&worksheets), 3 * most.next_multiple_of(2));
    make(dir.path(), &["--pad", "--single-sided"]);
    assert_eq!(pages(&worksheets), 3 * most);
}

#[test]
fn keys_as_text_hold_what_the_record_holds() {
    let dir = TempDir::new().expect("a temporary folder");
    let record = make(dir.path(), &[]);
    let text = std::fs::read_to_string(dir.path().join("set/keys.txt")).expect("keys");
    let keys: Vec<&str> = text.split("\n\n").collect();
    let students = record["students"].as_array().expect("students");
    assert_eq!(keys.len(), students.len());
    for (key, student) in keys.iter().zip(students) {
        assert!(key.starts_with(student["name"].as_str().expect("a name")), "{key}");
        assert!(key.contains(student["code"].as_str().expect("a code")), "{key}");
        let answers = student["answers"].as_object().expect("answers");
        assert_eq!(key.trim_end().lines().count(), answers.len() + 1, "{key}");
        for answer in answers.values().filter(|answer| answer.get("accept").is_some()) {
            let number = answer["text"].as_str().expect("text").split(' ').next().expect("a number");
            assert!(key.contains(&number.replace('-', "\u{2212}")), "{number} in {key}");
        }
    }
}

#[test]
fn a_preview_is_a_folder_of_pictures() {
    let dir = TempDir::new().expect("a temporary folder");
    let out = dir.path().join("look");
    let text = out.to_str().expect("text");
    let words = ["preview", "mixing", "--lang", "de", "--edition", "support", "--dpi", "30", "--out", text];
    let (ending, _, err) = labquire(&words);
    assert_eq!(ending, Ending::Done, "{err}");
    for name in ["worksheet-1.png", "key-1.png"] {
        let bytes = std::fs::read(out.join(name)).expect(name);
        assert_eq!(bytes[..8], *b"\x89PNG\r\n\x1a\n", "{name}");
        // A4 at 30 dots per inch is 248 dots wide, by the header (PNG, 11.2.2).
        assert_eq!(u32::from_be_bytes(bytes[16..20].try_into().expect("four bytes")), 248, "{name}");
    }
    assert_eq!(labquire(&words).0, Ending::Input, "an earlier preview is only replaced when asked");
    let again: Vec<&str> = words.iter().copied().chain(["--force"]).collect();
    assert_eq!(labquire(&again).0, Ending::Done);
    // A folder that is no preview stays.
    std::fs::remove_file(out.join("preview.txt")).expect("removed");
    assert_eq!(labquire(&again).0, Ending::Input);
    assert!(out.join("key-1.png").is_file());
}

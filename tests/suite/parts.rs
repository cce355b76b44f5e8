//! Parts of a set: put side by side they are the whole.

use std::{fs, path::Path};

use labquire::commands::{Console, Ending};
use serde_json::Value;
use tempfile::TempDir;

fn make(line: &[&str]) -> String {
    let (mut out, mut notes) = (Vec::new(), Vec::new());
    let ending = labquire::commands::run(
        ["labquire", "make", "cooling-curve", "--pdf", "plain"].iter().chain(line).copied(),
        &mut Console::new(&mut out, &mut notes, false),
    );
    let notes = String::from_utf8(notes).expect("text");
    assert_eq!(ending, Ending::Done, "{line:?}: {notes}");
    notes
}

fn record(folder: &Path) -> Value {
    serde_json::from_str(&fs::read_to_string(folder.join("set.json")).expect("a record")).expect("json")
}

/// Students of all parts in order, as text.
fn students(folders: &[std::path::PathBuf]) -> Vec<String> {
    let records = folders.iter().map(|folder| record(folder));
    records
        .flat_map(|record| record["students"].as_array().expect("students").clone())
        .map(|one| one.to_string())
        .collect()
}

#[test]
fn parts_side_by_side_are_the_whole() {
    let dir = TempDir::new().expect("a folder");
    // Enough for several volumes, in mixed editions, so that an edition runs full before the end.
    let rows: String = (1..=90).map(|n| format!("{n},Student {n},{}\n", ["core", "core", "support"][n % 3])).collect();
    let class = dir.path().join("class.csv");
    fs::write(&class, format!("id,name,edition\n{rows}")).expect("written");
    let class = class.display().to_string();
    let path = |name: &str| dir.path().join(name);
    let whole = path("whole");
    make(&["--class", &class, "--out", &whole.display().to_string()]);
    for of in [2, 5] {
        let parts: Vec<_> = (1..=of)
            .map(|index| {
                let folder = path(&format!("part-{index}-of-{of}"));
                make(&["--class", &class, "--part", &format!("{index}/{of}"), "--out", &folder.display().to_string()]);
                folder
            })
            .collect();
        assert_eq!(students(&parts), students(std::slice::from_ref(&whole)), "{of} parts");
        if of == 2 {
            // Parts that end with volumes hold the very files of the whole.
            for (name, part) in [("worksheets-01.pdf", 0), ("worksheets-02.pdf", 1), ("keys-03.pdf", 1)] {
                let bytes = |folder: &Path| fs::read(folder.join(name)).expect(name);
                assert_eq!(bytes(&whole), bytes(&parts[part]), "{name}");
            }
        }
    }
}

//! Wrong definitions and their messages. In: one sound definition, small edits of it, and the messages beside them.
//! Out: pass or fail.

use std::{collections::BTreeSet, fs, path::PathBuf, sync::Arc};

use labquire::{
    report::{Problems, Source, show},
    review,
};

use crate::faults;

const THEME: &str = "definition";

fn folder() -> PathBuf {
    PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("tests/faults")
}

fn problems(source: &Arc<Source>) -> Problems {
    match review::check(source) {
        Ok((_, warnings)) => warnings,
        Err(problems) => problems,
    }
}

#[test]
fn the_unchanged_definition_is_sound() {
    let text = fs::read_to_string(folder().join("definition.yaml")).expect("a readable file");
    let found = problems(&Source::new("definition.yaml", text));
    assert!(found.is_empty(), "{}", show(&found, false));
}

#[test]
fn every_message_is_as_kept() {
    faults::compare_all(THEME, "edit", |name| faults::edited(THEME, name), problems);
}

/// One fault, one message: what follows from a fault is not reported.
#[test]
fn every_wrong_definition_has_one_message_with_a_hint() {
    let mut seen = BTreeSet::new();
    for entry in fs::read_dir(folder().join(THEME)).expect("a readable folder") {
        let path = entry.expect("an entry").path();
        if path.extension().is_none_or(|end| end != "edit") {
            continue;
        }
        let name = path.file_stem().expect("a name").to_string_lossy().into_owned();
        let found = problems(&faults::edited(THEME, &name));
        assert_eq!(found.len(), 1, "{name}:\n{}", show(&found, false));
        // A label names the fix where it begins with what was expected.
        let mended = found[0].hint.is_some() || found[0].label.starts_with("expected");
        assert!(found[0].place.is_some() && mended, "{name} names no fix:\n{}", show(&found, false));
        seen.insert(name);
    }
    assert!(seen.len() >= 80, "only {} wrong definitions", seen.len());
}

//! Small wrong files with the messages that belong to them. In: a folder below tests/faults. Out: pass or fail.
//! A file without its partner must never pass. `LABQUIRE_RENEW=1` writes the messages anew.

use std::{collections::BTreeSet, fs, path::PathBuf, sync::Arc};

use labquire::report::{Problems, Source, show};

fn folder(theme: &str) -> PathBuf {
    PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("tests/faults").join(theme)
}

/// A wrong file.
pub(crate) fn source(theme: &str, name: &str) -> Arc<Source> {
    let file = format!("{name}.yaml");
    let text = fs::read_to_string(folder(theme).join(&file)).expect("a readable file");
    Source::new(file, text)
}

/// Compares the message of each file of a folder with the one kept beside it.
pub(crate) fn compare(theme: &str, problems: impl Fn(&Arc<Source>) -> Problems) {
    let renew = std::env::var_os("LABQUIRE_RENEW").is_some();
    let (mut inputs, mut messages) = (BTreeSet::new(), BTreeSet::new());
    for entry in fs::read_dir(folder(theme)).expect("a readable folder") {
        let path = entry.expect("a readable entry").path();
        let name = path.file_stem().expect("a name").to_string_lossy().into_owned();
        match path.extension().and_then(|end| end.to_str()) {
            Some("yaml") => assert!(inputs.insert(name)),
            Some("txt") => assert!(messages.insert(name)),
            _ => panic!("{} is neither a wrong file nor a message", path.display()),
        }
    }
    if !renew {
        let orphans: Vec<&String> = inputs.symmetric_difference(&messages).collect();
        assert!(orphans.is_empty(), "without a partner in {theme}: {orphans:?}");
    }
    let mut differing = Vec::new();
    for name in &inputs {
        let found = problems(&source(theme, name));
        assert!(!found.is_empty(), "{theme}/{name}.yaml has no fault");
        let shown = show(&found, false) + "\n";
        let file = folder(theme).join(format!("{name}.txt"));
        if renew {
            fs::write(&file, &shown).expect("a writable file");
        } else if fs::read_to_string(&file).expect("a readable file") != shown {
            differing.push(format!("{theme}/{name}:\n{shown}"));
        }
    }
    assert!(differing.is_empty(), "other messages than those kept:\n{}", differing.join("\n"));
}

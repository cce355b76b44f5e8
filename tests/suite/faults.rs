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

/// A sound file with one change: `THEME.yaml` and the lines of `NAME.edit`.
///
/// Lines of an edit begin with a space (they stay), `-` (they go) or `+` (they come), as in a patch; the lines that
/// stay or go must stand together at one place of the sound file.
pub(crate) fn edited(theme: &str, name: &str) -> Arc<Source> {
    let base = fs::read_to_string(folder(&format!("{theme}.yaml"))).expect("a readable file");
    let edit = fs::read_to_string(folder(theme).join(format!("{name}.edit"))).expect("a readable file");
    let side = |signs: [char; 2]| -> String {
        let lines = edit.lines().filter(|line| line.starts_with(signs));
        lines.map(|line| format!("{}\n", &line[1..])).collect()
    };
    let (before, after) = (side([' ', '-']), side([' ', '+']));
    let bounded = format!("\n{base}");
    let (before, after) = (format!("\n{before}"), format!("\n{after}"));
    assert_eq!(bounded.matches(&before).count(), 1, "{theme}/{name}.edit must fit one place of the sound file");
    Source::new(format!("{name}.yaml"), &bounded.replacen(&before, &after, 1)[1..])
}

/// Compares the message of each file of a folder with the one kept beside it.
pub(crate) fn compare(theme: &str, problems: impl Fn(&Arc<Source>) -> Problems) {
    compare_all(theme, "yaml", |name| source(theme, name), problems);
}

/// The same for files that `read` makes from those with the given ending.
pub(crate) fn compare_all(
    theme: &str,
    ending: &str,
    read: impl Fn(&str) -> Arc<Source>,
    problems: impl Fn(&Arc<Source>) -> Problems,
) {
    let renew = std::env::var_os("LABQUIRE_RENEW").is_some();
    let (mut inputs, mut messages) = (BTreeSet::new(), BTreeSet::new());
    for entry in fs::read_dir(folder(theme)).expect("a readable folder") {
        let path = entry.expect("a readable entry").path();
        let name = path.file_stem().expect("a name").to_string_lossy().into_owned();
        match path.extension().and_then(|end| end.to_str()) {
            Some(end) if end == ending => assert!(inputs.insert(name)),
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
        let found = problems(&read(name));
        assert!(!found.is_empty(), "{theme}/{name}.{ending} has no fault");
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

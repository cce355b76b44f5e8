//! What a list of experiments shows. In: YAML files. Out: id, title, bench, levels and minutes of each. It must not read the rest, which
//! is some fifty times as long.

use std::sync::Arc;

use serde::Deserialize;

use super::{Text, catalogue, definition::Level};
use crate::report::{Problem, Source};

/// The keys at the top of a definition that an entry has.
const KEYS: [&str; 5] = ["id", "title", "bench", "levels", "minutes"];

/// An experiment as a list shows it.
#[derive(Debug, Clone, Deserialize)]
pub struct Entry {
    /// Its id.
    pub id: String,
    /// Its title.
    pub title: Text,
    /// The bench that simulates it.
    pub bench: String,
    /// The school levels that it is for.
    pub levels: Vec<Level>,
    /// Minutes of the whole lesson.
    pub minutes: u32,
}

impl Entry {
    /// The entry of a definition's text.
    fn read(text: &str) -> Result<Self, serde_yaml::Error> {
        serde_yaml::from_str(&top(text))
    }
}

/// The entries of the catalogue, in order of id.
///
/// # Errors
/// If a definition lacks what an entry has.
pub fn entries() -> Result<Vec<Entry>, Problem> {
    let entry = |source: &Arc<Source>| {
        Entry::read(&source.text).map_err(|error| Problem::error(format!("{}: {error}", source.name)))
    };
    catalogue::sources().iter().map(entry).collect()
}

/// The lines of an entry's keys: a key at the top stands at the margin, what belongs to it further right.
fn top(text: &str) -> String {
    let mut wanted = false;
    let mut lines = String::new();
    for line in text.lines() {
        if line.starts_with(|first: char| first.is_alphabetic()) {
            wanted = line.split_once(':').is_some_and(|(key, _)| KEYS.contains(&key.trim_end()));
        }
        if wanted {
            lines.push_str(line);
            lines.push('\n');
        }
    }
    lines
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn entries_say_what_the_definitions_say() {
        let sources = catalogue::sources();
        let entries = entries().expect("sound definitions");
        assert_eq!(sources.len(), entries.len());
        for (source, entry) in sources.iter().zip(entries) {
            let whole = crate::experiment::read(source).expect("a sound definition");
            let (id, title, bench) = (entry.id, entry.title, entry.bench);
            assert_eq!((&id, &bench, entry.minutes), (&whole.id, &whole.bench, whole.minutes));
            assert_eq!(title.in_language("de"), whole.title.in_language("de"), "{id}");
            assert_eq!(entry.levels, whole.levels, "{id}");
        }
    }
}

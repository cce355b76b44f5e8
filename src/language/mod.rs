//! The languages of sheets. In: one file a language, built into the program. Out: fixed words, notation, speech.
//! It must hold no word of an experiment: those stand in definitions.

use std::{collections::BTreeMap, sync::LazyLock};

use include_dir::{Dir, include_dir};
use serde::Deserialize;

use crate::{formula::working::Speech, quantity::Notation};

static FILES: Dir<'_> = include_dir!("$CARGO_MANIFEST_DIR/templates/words");

static LANGUAGES: LazyLock<Vec<Language>> = LazyLock::new(|| {
    let mut languages: Vec<Language> = FILES
        .files()
        .filter_map(|file| file.contents_utf8())
        .map(|text| serde_yaml::from_str(text).unwrap_or_else(|error| panic!("a file in templates/words: {error}")))
        .collect();
    // English first: it is what stands in where a text is missing.
    languages.sort_by_key(|language| (language.code != "en", language.code.clone()));
    languages
});

/// A language with everything that does not depend on the experiment.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Language {
    /// Its code (ISO 639-1).
    pub code: String,
    /// Its own name.
    pub name: String,
    /// How it writes numbers.
    pub notation: Notation,
    /// How mathematics is spoken.
    pub speech: Speech,
    words: BTreeMap<String, String>,
    hazards: BTreeMap<String, Hazard>,
}

/// A hazard in words.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Hazard {
    /// One or two words.
    pub name: String,
    /// What to do about it.
    pub caution: String,
}

impl Language {
    /// All languages, English first.
    pub fn all() -> &'static [Self] {
        &LANGUAGES
    }

    /// The language of a code, in any case.
    pub fn find(code: &str) -> Option<&'static Self> {
        LANGUAGES.iter().find(|language| language.code.eq_ignore_ascii_case(code.trim()))
    }

    /// A fixed word; nothing where the file lacks it, which a test rules out.
    pub fn word(&self, key: &str) -> &str {
        self.words.get(key).map_or("", String::as_str)
    }

    /// All fixed words by key, for templates.
    pub fn words(&self) -> &BTreeMap<String, String> {
        &self.words
    }

    /// A hazard by its key word.
    pub fn hazard(&self, key: &str) -> Option<&Hazard> {
        self.hazards.get(key)
    }

    /// The key words of all hazards.
    pub fn hazards() -> Vec<&'static str> {
        LANGUAGES.first().map(|first| first.hazards.keys().map(String::as_str).collect()).unwrap_or_default()
    }
}

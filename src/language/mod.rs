//! The fixed words of a language. In: the word files shipped with the program. Out: words, cautions, notation.
//! It must hold no text of an experiment, and no language but English may be named in code.

mod day;

pub use day::Day;

use std::{collections::BTreeMap, sync::LazyLock};

use include_dir::{Dir, include_dir};
use serde::Deserialize;

use crate::{formula::working::Speech, quantity::Notation};

static FILES: Dir<'_> = include_dir!("$CARGO_MANIFEST_DIR/templates/words");

static LANGUAGES: LazyLock<Vec<Language>> = LazyLock::new(|| {
    let mut languages: Vec<Language> = FILES
        .files()
        .map(|file| {
            let text = file.contents_utf8().unwrap_or_default();
            // The files are part of the program and read by every test: a fault in one can't reach a user.
            let language: Language =
                serde_yaml::from_str(text).unwrap_or_else(|fault| panic!("{}: {fault}", file.path().display()));
            language.kept_together()
        })
        .collect();
    // English first: it stands in where an experiment's text is missing.
    languages.sort_by_key(|language| (language.code != "en", language.code.clone()));
    languages
});

/// A language that sheets can be printed in.
#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Language {
    /// Its code in ISO 639-1.
    pub code: String,
    /// Its name in itself.
    pub name: String,
    /// How it writes numbers.
    pub notation: Notation,
    /// How it speaks mathematics.
    pub speech: Speech,
    words: BTreeMap<String, String>,
    hazards: BTreeMap<String, Hazard>,
}

/// A hazard in words.
#[derive(Debug, Clone, PartialEq, Eq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Hazard {
    /// The key word.
    pub word: String,
    /// What to do, in deference to the rules of the school and the responsible teacher.
    pub text: String,
}

impl Language {
    /// The same with unbreakable spaces.
    fn kept_together(mut self) -> Self {
        let hazards = self.hazards.values_mut().flat_map(|hazard| [&mut hazard.word, &mut hazard.text]);
        for text in self.words.values_mut().chain(hazards) {
            *text = self.notation.kept_together(text).into_owned();
        }
        self
    }

    /// Every language there is, English first.
    pub fn all() -> &'static [Self] {
        &LANGUAGES
    }

    /// The language of a code, in any case.
    pub fn find(code: &str) -> Option<&'static Self> {
        Self::all().iter().find(|language| language.code.eq_ignore_ascii_case(code.trim()))
    }

    /// A fixed word; the key itself where the language lacks it.
    pub fn word<'a>(&'a self, key: &'a str) -> &'a str {
        self.words.get(key).map_or(key, String::as_str)
    }

    /// A fixed word with the colon behind it.
    pub fn heading(&self, key: &str) -> String {
        format!("{}{}", self.word(key), self.word("colon"))
    }

    /// A fixed word with parts in place of its marks, such as `{found}`.
    pub fn phrase(&self, key: &str, parts: &[(&str, &str)]) -> String {
        parts.iter().fold(self.word(key).to_owned(), |text, (mark, part)| text.replace(mark, part))
    }

    /// All fixed words by key.
    pub fn words(&self) -> &BTreeMap<String, String> {
        &self.words
    }

    /// A hazard by its key, such as `hot-lamp`.
    pub fn hazard(&self, key: &str) -> Option<&Hazard> {
        self.hazards.get(key)
    }

    /// All hazards by key.
    pub fn hazards(&self) -> &BTreeMap<String, Hazard> {
        &self.hazards
    }

    /// The keys of all hazards, the same in every language.
    pub fn hazard_keys() -> Vec<&'static str> {
        Self::all().first().map(|language| language.hazards.keys().map(String::as_str).collect()).unwrap_or_default()
    }
}

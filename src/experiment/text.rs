//! A text in several languages. In: a mapping from language to words. Out: the words for a reader.
//! It must not translate.

use std::{borrow::Cow, collections::BTreeMap};

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::language::Language;

/// The same text in each language, by language code.
#[derive(Debug, Clone, Default, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(transparent)]
pub struct Text(BTreeMap<String, String>);

impl Text {
    /// The words in a language; English, then any other, where it is missing.
    pub fn in_language(&self, code: &str) -> &str {
        self.0.get(code).or_else(|| self.0.get("en")).or_else(|| self.0.values().next()).map_or("", String::as_str)
    }

    /// The words as they are printed for a reader: those of [`Self::in_language`] with the language's unbreakable spaces.
    pub fn printed_in(&self, language: &Language) -> Cow<'_, str> {
        language.notation.kept_together(self.in_language(&language.code))
    }

    /// The languages that it has.
    pub fn languages(&self) -> impl Iterator<Item = &str> {
        self.0.keys().map(String::as_str)
    }

    /// Each language with its words.
    pub fn entries(&self) -> impl Iterator<Item = (&str, &str)> {
        self.0.iter().map(|(code, words)| (code.as_str(), words.as_str()))
    }
}

//! The words for values and kinds. In: JSON values and types. Out: phrases for messages. It must not judge.

use jsonschema::{JsonType, error::TypeKind};
use serde_json::Value;

use crate::experiment::place::{Path, PlaceMap};

/// Longer texts are not repeated in a message.
const LONGEST: usize = 40;

/// A value as found, in the file's own words where it is a word or a number.
pub(super) fn found(value: &Value, path: &Path, places: &PlaceMap) -> String {
    let written = |value: &dyn ToString| places.words(path).map_or_else(|| value.to_string(), str::to_owned);
    match value {
        Value::Null if places.words(path).is_none_or(str::is_empty) => "nothing".to_owned(),
        Value::Null => format!("`{}`", written(value)),
        Value::Bool(truth) => format!("`{}`", written(truth)),
        Value::Number(number) => format!("the number `{}`", written(number)),
        Value::String(text) if text.is_empty() => "an empty text".to_owned(),
        Value::String(text) if text.chars().count() > LONGEST || text.contains('\n') => "a text".to_owned(),
        Value::String(text) => format!("the text `{text}`"),
        Value::Array(_) => "a list".to_owned(),
        Value::Object(_) => "a group of fields".to_owned(),
    }
}

/// The kinds that a place takes; "nothing" is left out where anything else is possible.
pub(super) fn kinds(kind: &TypeKind) -> Vec<&'static str> {
    let all: Vec<JsonType> = match kind {
        TypeKind::Single(one) => vec![*one],
        TypeKind::Multiple(many) => many.iter().collect(),
    };
    let useful = all.iter().filter(|kind| all.len() == 1 || **kind != JsonType::Null);
    useful.map(|kind| self::kind(*kind)).collect()
}

fn kind(kind: JsonType) -> &'static str {
    match kind {
        JsonType::Null => "nothing",
        JsonType::Boolean => "`true` or `false`",
        JsonType::Integer => "a whole number",
        JsonType::Number => "a number",
        JsonType::String => "a text",
        JsonType::Array => "a list",
        JsonType::Object => "a group of fields",
    }
}

/// Names in backticks, joined by commas and a last word such as `or`.
pub(super) fn list<S: AsRef<str>>(names: &[S], last: &str) -> String {
    join(&names.iter().map(|name| format!("`{}`", name.as_ref())).collect::<Vec<_>>(), last)
}

/// Phrases joined by commas and a last word such as `or`.
pub(super) fn join<S: AsRef<str>>(phrases: &[S], last: &str) -> String {
    let phrases: Vec<&str> = phrases.iter().map(AsRef::as_ref).collect();
    match phrases.as_slice() {
        [] => String::new(),
        [only] => (*only).to_owned(),
        [rest @ .., end] => format!("{} {last} {end}", rest.join(", ")),
    }
}

/// A count with its noun, such as `no entries`, `1 entry` or `3 entries`.
pub(super) fn count(number: u64, one: &str, many: &str) -> String {
    match number {
        0 => format!("no {many}"),
        1 => format!("1 {one}"),
        _ => format!("{number} {many}"),
    }
}

//! Values of the wrong kind, size or writing. In: errors about values. Out: problems at the values.
//! It must not speak of names.

use jsonschema::{ValidationError, error::ValidationErrorKind as Kind};
use serde_json::Value;

use super::{
    fields,
    translate::Translator,
    wording::{self, count, join},
};
use crate::{
    experiment::place::Path,
    report::{Problem, nearest},
};

impl Translator<'_> {
    /// An error about one value.
    pub(super) fn value_fault(&self, error: &ValidationError<'_>, path: &Path) -> Problem {
        let instance = error.instance();
        let length =
            instance.as_array().map_or_else(|| instance.as_object().map_or(0, serde_json::Map::len), Vec::len) as u64;
        let entries = |number| count(number, "entry", "entries");
        let fields = |number| count(number, "field", "fields");
        let signs = |number| count(number, "character", "characters");
        let plain = |label: String| self.at_value(path, self.found(error, path), label);
        match error.kind() {
            Kind::Type { kind } => self.wrong_kind(error, path, &wording::kinds(kind)),
            Kind::Enum { options } => self.choice(error, path, &words(options), &[]),
            Kind::Constant { expected_value } => self.choice(error, path, &words(expected_value), &[]),
            Kind::MinItems { limit } => self.size(path, entries(length), format!("at least {}", entries(*limit))),
            Kind::MaxItems { limit } => self.size(path, entries(length), format!("at most {}", entries(*limit))),
            Kind::AdditionalItems { limit } => {
                self.size(path, entries(length), format!("at most {}", entries(*limit as u64)))
            }
            Kind::UnevaluatedItems { .. } => self.size(path, entries(length), "fewer entries".to_owned()),
            Kind::MinProperties { limit } => self.size(path, fields(length), format!("at least {}", fields(*limit))),
            Kind::MaxProperties { limit } => self.size(path, fields(length), format!("at most {}", fields(*limit))),
            Kind::MinLength { limit } => plain(format!("expected at least {}", signs(*limit))),
            Kind::MaxLength { limit } => plain(format!("expected at most {}", signs(*limit))),
            Kind::Minimum { limit } => plain(format!("expected at least {limit}")),
            Kind::ExclusiveMinimum { limit } => plain(format!("expected more than {limit}")),
            Kind::Maximum { limit } => plain(format!("expected at most {limit}")),
            Kind::ExclusiveMaximum { limit } => plain(format!("expected less than {limit}")),
            Kind::MultipleOf { multiple_of } => plain(format!("expected a multiple of {multiple_of}")),
            Kind::Pattern { pattern } => {
                self.described(error, plain(format!("expected a text of the form `{pattern}`")))
            }
            Kind::Format { format } => self.badly_written(error, path, format),
            Kind::UniqueItems => self.repeated(error, path),
            Kind::FalseSchema => {
                Problem::error("a field that is not allowed here").at(self.places.key(path)).hint("delete it")
            }
            Kind::Not { schema } => match schema.get("required").map(words) {
                Some(names) if names.len() > 1 => {
                    self.both_given(path, &names.into_iter().map(str::to_owned).collect::<Vec<_>>())
                }
                _ => self.described(error, plain("expected something else".to_owned())),
            },
            _ => self.described(error, plain(format!("{}", error.masked_with("this value")))),
        }
    }

    /// A value that is none of the allowed words nor of the other allowed kinds.
    pub(super) fn choice(&self, error: &ValidationError<'_>, path: &Path, words: &[&str], kinds: &[&str]) -> Problem {
        let mut expected: Vec<String> = words.iter().map(|word| format!("`{word}`")).collect();
        expected.extend(kinds.iter().map(|kind| (*kind).to_owned()));
        let problem = self.at_value(path, self.found(error, path), format!("expected {}", join(&expected, "or")));
        match self.places.words(path).and_then(|found| nearest(found, words.iter().copied())) {
            Some(near) => problem.hint(format!("did you mean `{near}`?")),
            None => problem,
        }
    }

    /// A value of the wrong kind.
    pub(super) fn wrong_kind(&self, error: &ValidationError<'_>, path: &Path, kinds: &[&str]) -> Problem {
        let problem = self.at_value(path, self.found(error, path), format!("expected {}", join(kinds, "or")));
        match self.kind_hint(error.instance(), path, kinds) {
            Some(hint) => problem.hint(hint),
            None => problem,
        }
    }

    fn kind_hint(&self, value: &Value, path: &Path, kinds: &[&str]) -> Option<String> {
        let wants = |part: &str| kinds.iter().any(|kind| kind.contains(part));
        let words = self.places.words(path).unwrap_or_default();
        Some(match value {
            _ if *path == Path::root() => {
                "a file begins with fields, each on a line of its own: `name: value`".to_owned()
            }
            Value::Null if wants("nothing") => return None,
            Value::Null => "write a value, or delete the line".to_owned(),
            Value::Number(_) | Value::Bool(_) if wants("a text") => format!("put it in quotes: `\"{words}\"`"),
            Value::String(text) if wants("`true`") => match text.to_lowercase().as_str() {
                "yes" | "on" => "write `true`".to_owned(),
                "no" | "off" => "write `false`".to_owned(),
                _ => return None,
            },
            Value::String(text) if wants("number") => {
                let pointed = text.replacen(',', ".", 1);
                match (text.trim().parse::<f64>().is_ok(), pointed.trim().parse::<f64>().is_ok()) {
                    (true, _) => format!("write it without quotes: `{}`", text.trim()),
                    (_, true) => format!("write a decimal point: `{}`", pointed.trim()),
                    _ if text.starts_with(|sign: char| sign.is_ascii_digit()) => "write the number alone".to_owned(),
                    _ => return None,
                }
            }
            Value::Number(number) if wants("whole") && number.is_f64() => "write it without decimals".to_owned(),
            Value::Array(_) => return None,
            _ if wants("a list") => "begin each entry on a line of its own with `- `".to_owned(),
            _ if wants("a group") => {
                "write its fields below, each on a line of its own and indented: `name: value`".to_owned()
            }
            _ => return None,
        })
    }

    fn size(&self, path: &Path, found: String, expected: String) -> Problem {
        Problem::error(format!("found {found}")).at(self.places.key(path)).label(format!("expected {expected}"))
    }

    /// A text that its own reader refuses, underlined where the reader says.
    fn badly_written(&self, error: &ValidationError<'_>, path: &Path, name: &str) -> Problem {
        let text = error.instance().as_str().unwrap_or_default();
        let read = self.formats.iter().find(|format| format.name == name).map(|format| (format.read)(text));
        let Some(Err(fault)) = read else {
            return self.described(
                error,
                self.at_value(path, self.found(error, path), format!("expected a text of the form `{name}`")),
            );
        };
        let problem = Problem::error(fault.message).at(self.places.inside(path, &fault.span));
        match fault.hint {
            Some(hint) => problem.hint(hint),
            None => problem,
        }
    }

    /// A list in which entries must differ.
    fn repeated(&self, error: &ValidationError<'_>, path: &Path) -> Problem {
        let items = error.instance().as_array().map(Vec::as_slice).unwrap_or_default();
        let pair = (1..items.len())
            .find_map(|later| Some((items[..later].iter().position(|item| *item == items[later])?, later)));
        let Some((first, later)) = pair else {
            return self.at_value(path, "an entry is repeated", "expected different entries");
        };
        let (first, later) = (path.clone().index(first), path.clone().index(later));
        self.at_value(&later, "an entry is repeated", "second time")
            .also(self.places.value(first), "first time")
            .hint("keep one of the two")
    }

    /// The problem with the schema's own description as its hint.
    fn described(&self, error: &ValidationError<'_>, problem: Problem) -> Problem {
        match fields::description(self.schema, error.schema_path().as_str()) {
            Some(words) => problem.hint(words),
            None => problem,
        }
    }
}

/// The words of a constant or a list of constants.
pub(super) fn words(value: &Value) -> Vec<&str> {
    match value {
        Value::String(word) => vec![word],
        Value::Array(all) => all.iter().filter_map(Value::as_str).collect(),
        _ => Vec::new(),
    }
}

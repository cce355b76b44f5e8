//! Faults of the file's form: fields that are unknown, missing or of the wrong kind. In: YAML and the format's schema.
//! Out: every such fault with its place. It must not ask what a value means.

use jsonschema::{
    ValidationError,
    error::{TypeKind, ValidationErrorKind},
};
use serde_json::Value;

use super::place::{PlaceMap, escape};
use crate::report::{Problem, Problems, nearest};

/// Every fault of a document's form.
pub(super) fn faults(document: &Value, schema: &Value, places: &PlaceMap) -> Problems {
    let validator = match jsonschema::validator_for(schema) {
        Ok(validator) => validator,
        Err(error) => return vec![Problem::error(format!("the format's own schema is broken: {error}"))],
    };
    let mut problems = Vec::new();
    for error in validator.iter_errors(document) {
        translate(&error, schema, places, &mut problems);
    }
    problems
}

fn translate(error: &ValidationError<'_>, schema: &Value, places: &PlaceMap, problems: &mut Problems) {
    let pointer = error.instance_path().as_str().to_owned();
    let found = describe(error.instance());
    match error.kind() {
        ValidationErrorKind::AdditionalProperties { unexpected } => {
            let known = fields(error, schema);
            problems.extend(unexpected.iter().map(|field| unknown(&pointer, field, &known, places)));
        }
        ValidationErrorKind::Required { property } => {
            let field = property.as_str().unwrap_or_default();
            let place = if pointer.is_empty() { places.inside("", &(0..0)) } else { places.key(&pointer) };
            problems.push(
                Problem::error(format!("`{field}` is missing"))
                    .at(place)
                    .label(format!("expected `{field}` in here"))
                    .hint(format!("add a line `{field}: …`")),
            );
        }
        ValidationErrorKind::Type { kind } => {
            let wanted = wanted_types(kind);
            problems.push(
                Problem::error(format!("found {found}")).at(places.value(&pointer)).label(format!("expected {wanted}")),
            );
        }
        ValidationErrorKind::Enum { options } => {
            let words: Vec<&str> = options.as_array().into_iter().flatten().filter_map(Value::as_str).collect();
            problems.push(choice(&pointer, error.instance(), &words, places));
        }
        ValidationErrorKind::Constant { expected_value } => {
            let words: Vec<&str> = expected_value.as_str().into_iter().collect();
            problems.push(choice(&pointer, error.instance(), &words, places));
        }
        ValidationErrorKind::AnyOf { context } | ValidationErrorKind::OneOfNotValid { context } => {
            branches(&pointer, error, context, schema, places, problems);
        }
        _ => {
            problems.push(Problem::error(format!("found {found}")).at(places.value(&pointer)).label(error.to_string()))
        }
    }
}

/// Reports the branch that comes nearest: words to choose from are gathered, else the branch with the deepest fault.
fn branches(
    pointer: &str,
    error: &ValidationError<'_>,
    context: &[Vec<ValidationError<'static>>],
    schema: &Value,
    places: &PlaceMap,
    problems: &mut Problems,
) {
    let words: Vec<&str> = context
        .iter()
        .flatten()
        .filter(|inner| inner.instance_path().as_str() == pointer)
        .flat_map(|inner| match inner.kind() {
            ValidationErrorKind::Constant { expected_value } => expected_value.as_str().into_iter().collect::<Vec<_>>(),
            ValidationErrorKind::Enum { options } => {
                options.as_array().into_iter().flatten().filter_map(Value::as_str).collect()
            }
            _ => Vec::new(),
        })
        .collect();
    if !words.is_empty() {
        problems.push(choice(pointer, error.instance(), &words, places));
        return;
    }
    let is_null = |branch: &[ValidationError<'static>]| {
        branch
            .iter()
            .any(|inner| matches!(inner.kind(), ValidationErrorKind::Type { kind } if wanted_types(kind) == "nothing"))
    };
    let depth = |branch: &&Vec<ValidationError<'static>>| {
        branch.iter().map(|inner| inner.instance_path().as_str().len()).max().unwrap_or(0)
    };
    if let Some(branch) = context.iter().filter(|branch| !is_null(branch)).max_by_key(depth) {
        for inner in branch {
            translate(inner, schema, places, problems);
        }
    }
}

fn choice(pointer: &str, found: &Value, words: &[&str], places: &PlaceMap) -> Problem {
    let problem = Problem::error(format!("found {}", describe(found)))
        .at(places.value(pointer))
        .label(format!("expected {}", list(words)));
    match found.as_str().and_then(|found| nearest(found, words.iter().copied())) {
        Some(near) => problem.hint(format!("did you mean `{near}`?")),
        None => problem,
    }
}

fn unknown(pointer: &str, field: &str, known: &[String], places: &PlaceMap) -> Problem {
    let here: Vec<&str> = places.keys_below(pointer).collect();
    let free: Vec<&str> = known.iter().map(String::as_str).filter(|name| !here.contains(name)).collect();
    let problem = Problem::error(format!("unknown field `{field}`"))
        .at(places.key(&format!("{pointer}/{}", escape(field))))
        .label("not a field of this part");
    match nearest(field, known.iter().map(String::as_str)) {
        Some(near) => problem.hint(format!("did you mean `{near}`?")),
        None if free.is_empty() => problem.hint("delete it"),
        None => problem.hint(format!("fields that could stand here: {}", free.join(", "))),
    }
}

/// The fields that the part of the schema knows in which an unknown one was found.
fn fields(error: &ValidationError<'_>, schema: &Value) -> Vec<String> {
    let path = error.schema_path().as_str();
    let part = path.rfind('/').and_then(|end| schema.pointer(&path[..end]));
    let direct = part.and_then(|part| part.get("properties")).and_then(Value::as_object);
    let through_reference = || evaluate_references(schema, path);
    match direct {
        Some(fields) => fields.keys().cloned().collect(),
        None => through_reference(),
    }
}

/// Follows a schema path step by step, through every `$ref` on the way.
fn evaluate_references(schema: &Value, path: &str) -> Vec<String> {
    let mut part = schema;
    for step in path.split('/').skip(1) {
        let step = step.replace("~1", "/").replace("~0", "~");
        if step == "$ref" {
            let target = part.get("$ref").and_then(Value::as_str).and_then(|target| target.strip_prefix('#'));
            match target.and_then(|target| schema.pointer(target)) {
                Some(next) => part = next,
                None => return Vec::new(),
            }
        } else if step == "additionalProperties" {
            break;
        } else {
            let next = match part {
                Value::Array(items) => step.parse().ok().and_then(|index: usize| items.get(index)),
                _ => part.get(&step),
            };
            match next {
                Some(next) => part = next,
                None => return Vec::new(),
            }
        }
    }
    part.get("properties").and_then(Value::as_object).map(|fields| fields.keys().cloned().collect()).unwrap_or_default()
}

fn describe(value: &Value) -> String {
    match value {
        Value::Null => "nothing".to_owned(),
        Value::Bool(value) => format!("`{value}`"),
        Value::Number(number) => format!("the number `{number}`"),
        Value::String(text) if text.chars().count() > 40 => "a text".to_owned(),
        Value::String(text) => format!("`{text}`"),
        Value::Array(_) => "a list".to_owned(),
        Value::Object(_) => "a group of fields".to_owned(),
    }
}

fn wanted_types(kind: &TypeKind) -> String {
    let one = |kind: jsonschema::JsonType| match kind.to_string().as_str() {
        "null" => "nothing",
        "boolean" => "`true` or `false`",
        "integer" => "a whole number",
        "number" => "a number",
        "string" => "a text",
        "array" => "a list",
        _ => "a group of fields",
    };
    match kind {
        TypeKind::Single(single) => one(*single).to_owned(),
        TypeKind::Multiple(many) => {
            let words: Vec<&str> = many.iter().map(one).filter(|word| *word != "nothing").collect();
            words.join(" or ")
        }
    }
}

fn list(words: &[&str]) -> String {
    let quoted: Vec<String> = words.iter().map(|word| format!("`{word}`")).collect();
    match quoted.split_last() {
        None => "nothing".to_owned(),
        Some((only, [])) => only.clone(),
        Some((last, rest)) => format!("{} or {last}", rest.join(", ")),
    }
}

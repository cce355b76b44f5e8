//! The fields that a part of a file may have. In: the schema and where in it a check failed. Out: names.
//! It must not look at the file.

use serde_json::Value;

/// References followed within one another before giving up: a schema may refer to itself.
const DEEPEST: usize = 16;

/// The fields that the part of the schema knows whose check at `location` (a JSON pointer to a keyword) failed.
pub(super) fn known(schema: &Value, location: &str) -> Vec<String> {
    let mut names = Vec::new();
    if let Some(part) = location.rfind('/').and_then(|end| resolve(schema, &location[..end])) {
        gather(schema, part, DEEPEST, &mut names);
    }
    names
}

/// The fields that the alternatives of the keyword at `location` know, all together.
pub(super) fn alternatives(schema: &Value, location: &str) -> Vec<String> {
    let mut names = Vec::new();
    for alternative in resolve(schema, location).and_then(Value::as_array).into_iter().flatten() {
        gather(schema, alternative, DEEPEST, &mut names);
    }
    names
}

/// The fields that each alternative of the keyword at `location` (`oneOf` or `anyOf`) asks for.
pub(super) fn demanded(schema: &Value, location: &str) -> Vec<Vec<String>> {
    let alternatives = resolve(schema, location).and_then(Value::as_array);
    let required = |alternative: &Value| -> Vec<String> {
        let names = follow(schema, alternative).get("required").and_then(Value::as_array);
        names.into_iter().flatten().filter_map(Value::as_str).map(str::to_owned).collect()
    };
    alternatives.into_iter().flatten().map(required).collect()
}

/// The forms that free names must have beside the keyword at `location`.
pub(super) fn patterns(schema: &Value, location: &str) -> Vec<String> {
    let part = location.rfind('/').and_then(|end| resolve(schema, &location[..end]));
    let patterns = part.and_then(|part| part.get("patternProperties")).and_then(Value::as_object);
    patterns.into_iter().flat_map(|patterns| patterns.keys().cloned()).collect()
}

/// Whether some alternative of the keyword at `location` refuses fields that it does not know.
pub(super) fn is_closed(schema: &Value, location: &str) -> bool {
    let alternatives = resolve(schema, location).and_then(Value::as_array);
    let closed = |part: &Value| follow(schema, part).get("additionalProperties") == Some(&Value::Bool(false));
    alternatives.into_iter().flatten().any(closed)
}

/// The description of the part of the schema whose keyword stands at `location`, on one line.
pub(super) fn description(schema: &Value, location: &str) -> Option<String> {
    let part = location.rfind('/').and_then(|end| resolve(schema, &location[..end]))?;
    let words = part.get("description")?.as_str()?.split_whitespace().collect::<Vec<_>>().join(" ");
    Some(lower_start(words.trim_end_matches('.')))
}

/// The words with a small first letter, unless they begin with an abbreviation.
fn lower_start(words: &str) -> String {
    let mut letters = words.chars();
    match letters.next() {
        Some(first) if !letters.as_str().starts_with(char::is_uppercase) => {
            first.to_lowercase().chain(letters).collect()
        }
        _ => words.to_owned(),
    }
}

fn gather(schema: &Value, part: &Value, depth: usize, names: &mut Vec<String>) {
    let part = follow(schema, part);
    let direct = part.get("properties").and_then(Value::as_object);
    for name in direct.into_iter().flat_map(|fields| fields.keys()) {
        if !names.contains(name) {
            names.push(name.clone());
        }
    }
    if depth == 0 {
        return;
    }
    for keyword in ["allOf", "anyOf", "oneOf"] {
        for alternative in part.get(keyword).and_then(Value::as_array).into_iter().flatten() {
            gather(schema, alternative, depth - 1, names);
        }
    }
}

/// The part itself, or the one that it refers to.
fn follow<'a>(schema: &'a Value, mut part: &'a Value) -> &'a Value {
    for _ in 0..DEEPEST {
        let target = part.get("$ref").and_then(Value::as_str).and_then(|target| target.strip_prefix('#'));
        match target.and_then(|target| schema.pointer(target)) {
            Some(next) => part = next,
            None => break,
        }
    }
    part
}

/// The part at a pointer that may pass through references.
fn resolve<'a>(schema: &'a Value, pointer: &str) -> Option<&'a Value> {
    let mut part = schema;
    for step in pointer.split('/').skip(1) {
        let step = step.replace("~1", "/").replace("~0", "~");
        part = match part {
            Value::Array(items) => items.get(step.parse::<usize>().ok()?)?,
            _ if step == "$ref" => follow(schema, part),
            _ => follow(schema, part).get(&step).or_else(|| part.get(&step))?,
        };
    }
    Some(part)
}

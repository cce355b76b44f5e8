//! Faults of a file's form: fields that are unknown, missing or of the wrong kind. In: the places of a YAML file and the
//! JSON Schema of its format. Out: every such fault with its place. It must not ask what a value is for.

mod branch;
mod fields;
mod format;
mod leftover;
mod names;
mod translate;
mod values;
mod wording;

use serde_json::Value;

pub use format::{Format, FormatFault};
pub use leftover::serde_problem;
use translate::Translator;

use super::place::PlaceMap;
use crate::report::{Problem, Problems};

/// Every fault of a document's form, by the schema of its format.
///
/// `formats` reads the texts that the schema marks with a `format` of the same name.
pub fn check(places: &PlaceMap, schema: &Value, formats: &[Format]) -> Problems {
    let document: Value = match serde_yaml::from_str(&places.source().text) {
        Ok(document) => document,
        Err(error) => return vec![serde_problem(places, &error)],
    };
    let mut options = jsonschema::options().should_validate_formats(true);
    for format in formats {
        let read = format.read;
        options = options.with_format(format.name, move |text: &str| read(text).is_ok());
    }
    match options.build(schema) {
        Ok(validator) => Translator { places, schema, formats }.all(validator.iter_errors(&document)),
        Err(error) => vec![Problem::error(format!("the format's own schema is broken: {error}"))],
    }
}

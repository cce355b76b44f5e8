//! From a schema check's errors to problems. In: errors by place in the document. Out: problems in the program's own
//! words, without repeats. It must leave no error out unless another problem already tells how to mend it.

use std::collections::BTreeMap;

use jsonschema::{
    ValidationError,
    error::ValidationErrorKind as Kind,
    paths::{Location, LocationSegment},
};
use serde_json::Value;

use super::{Format, wording};
use crate::{
    experiment::place::{Path, PlaceMap, Segment},
    report::{Problem, Problems},
};

pub(super) struct Translator<'a> {
    pub(super) places: &'a PlaceMap,
    pub(super) schema: &'a Value,
    pub(super) formats: &'a [Format],
}

/// What was found so far; names are held back until unknown ones can be seen beside missing ones.
#[derive(Default)]
pub(super) struct Findings {
    pub(super) problems: Problems,
    pub(super) unknown: Vec<UnknownField>,
    pub(super) missing: BTreeMap<Path, Vec<String>>,
    /// Parts that give none of several groups of fields.
    pub(super) none_given: Vec<(Path, Vec<Vec<String>>)>,
}

/// A field that the format does not know.
pub(super) struct UnknownField {
    pub(super) part: Path,
    pub(super) name: String,
    pub(super) known: Vec<String>,
}

impl Translator<'_> {
    /// Every error as a problem.
    pub(super) fn all<'e>(&self, errors: impl Iterator<Item = ValidationError<'e>>) -> Problems {
        let mut findings = Findings::default();
        for error in errors {
            self.one(&error, &mut findings);
        }
        self.settle(findings)
    }

    pub(super) fn one(&self, error: &ValidationError<'_>, findings: &mut Findings) {
        let path = path_of(error.instance_path());
        match error.kind() {
            Kind::AdditionalProperties { unexpected } | Kind::UnevaluatedProperties { unexpected } => {
                for name in unexpected {
                    self.unknown_field(error, &path, name, findings);
                }
            }
            Kind::Required { property } => {
                let missing = findings.missing.entry(path).or_default();
                let name = property.as_str().unwrap_or_default().to_owned();
                if !missing.contains(&name) {
                    missing.push(name);
                }
            }
            Kind::AnyOf { context } | Kind::OneOfNotValid { context } => self.branches(error, &path, context, findings),
            Kind::OneOfMultipleValid { .. } => findings.problems.push(self.several_fit(error, &path)),
            Kind::PropertyNames { error } => findings.problems.push(self.bad_name(error, &path)),
            _ => findings.problems.push(self.value_fault(error, &path)),
        }
    }

    /// A problem at a value.
    pub(super) fn at_value(&self, path: &Path, message: impl Into<String>, label: impl Into<String>) -> Problem {
        Problem::error(message).at(self.places.value(path)).label(label)
    }

    pub(super) fn found(&self, error: &ValidationError<'_>, path: &Path) -> String {
        format!("found {}", wording::found(error.instance(), path, self.places))
    }
}

/// The path of a schema check's location.
pub(super) fn path_of(location: &Location) -> Path {
    let step = |segment: LocationSegment<'_>| match segment {
        LocationSegment::Property(name) => Segment::Key(name.into_owned()),
        LocationSegment::Index(index) => Segment::Index(index),
    };
    location.iter().map(step).collect()
}

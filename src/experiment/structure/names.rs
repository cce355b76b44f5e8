//! Fields that are unknown, missing, or given beside each other. In: errors about names. Out: problems at the keys.
//! It must not speak of values.

use jsonschema::{ValidationError, error::ValidationErrorKind as Kind};
use serde_json::Value;

use super::{
    fields,
    translate::{Findings, Translator, UnknownField},
    wording::{join, list},
};
use crate::{
    experiment::place::Path,
    report::{Place, Problem, Problems, nearest},
};

impl Translator<'_> {
    /// Notes a field that the format does not know.
    pub(super) fn unknown_field(&self, error: &ValidationError<'_>, part: &Path, name: &str, findings: &mut Findings) {
        let patterns = fields::patterns(self.schema, error.schema_path().as_str());
        let known = fields::known(self.schema, error.schema_path().as_str());
        if !patterns.is_empty() && known.is_empty() {
            let problem = Problem::error(format!("`{name}` cannot be a name here"))
                .at(self.places.key(part.clone().key(name)))
                .label(format!("expected a name of the form {}", list(&patterns, "or")));
            findings.problems.push(problem);
        } else {
            findings.unknown.push(UnknownField { part: part.clone(), name: name.to_owned(), known });
        }
    }

    /// All problems, with unknown and missing fields; a missing field that an unknown one was meant to be is left out.
    pub(super) fn settle(&self, mut findings: Findings) -> Problems {
        let mut problems = std::mem::take(&mut findings.problems);
        for UnknownField { part, name, known } in &findings.unknown {
            let (problem, meant) = self.unknown_problem(part, name, known);
            problems.push(problem);
            if let (Some(missing), Some(meant)) = (findings.missing.get_mut(part), meant) {
                missing.retain(|field| field != meant);
            }
            findings.none_given.retain(|(other, groups)| {
                other != part || !meant.is_some_and(|meant| groups.iter().flatten().any(|field| field == meant))
            });
        }
        problems.extend(findings.none_given.iter().map(|(path, groups)| self.none_given(path, groups)));
        let missing = findings.missing.iter().filter(|(_, fields)| !fields.is_empty());
        problems.extend(missing.map(|(part, fields)| self.missing_problem(part, fields)));
        let mut once: Problems = Vec::new();
        for problem in problems {
            if !once.contains(&problem) {
                once.push(problem);
            }
        }
        once
    }

    /// An unknown field, and the missing one that it was likely meant to be.
    fn unknown_problem<'k>(&self, part: &Path, name: &str, known: &'k [String]) -> (Problem, Option<&'k str>) {
        let given = self.places.keys_below(part);
        let (given, free): (Vec<&str>, Vec<&str>) =
            known.iter().map(String::as_str).partition(|known| given.contains(known));
        let problem = Problem::error(format!("unknown field `{name}`"))
            .at(self.places.key(part.clone().key(name)))
            .label(if known.is_empty() { "expected no field here" } else { "not a field of this part" });
        if let Some(meant) = nearest(name, free.iter().copied()) {
            return (problem.hint(format!("did you mean `{meant}`?")), Some(meant));
        }
        let hint = match nearest(name, given) {
            Some(near) => format!("`{near}` is given already: delete this one"),
            None if free.is_empty() => "delete it".to_owned(),
            None => format!("fields that can be added here: {}", list(&free, "and")),
        };
        (problem.hint(hint), None)
    }

    fn missing_problem(&self, part: &Path, fields: &[String]) -> Problem {
        let (verb, them) = if fields.len() == 1 { ("is", "it") } else { ("are", "them") };
        let owner = if *part == Path::root() { "the file".to_owned() } else { format!("`{part}`") };
        Problem::error(format!("{} {verb} missing", list(fields, "and")))
            .at(self.places.key(part))
            .label(format!("expected in {owner}"))
            .hint(format!("add {them}, such as `{}: …`", fields[0]))
    }

    /// Fields of which one alone must be given: none is.
    pub(super) fn none_given(&self, path: &Path, groups: &[Vec<String>]) -> Problem {
        Problem::error(format!("none of {} is given", alternatives(groups, "and")))
            .at(self.places.key(path))
            .label("expected exactly one of them")
            .hint(format!("add {}", alternatives(groups, "or")))
    }

    /// Fields of which one alone may be given: several are.
    pub(super) fn both_given(&self, path: &Path, given: &[String]) -> Problem {
        let mut keys: Vec<Place> = given.iter().map(|name| self.places.key(path.clone().key(name))).collect();
        keys.sort_by_key(|place| match place {
            Place::Text(_, span) => span.start,
            _ => 0,
        });
        let mut problem = Problem::error(format!("{} are given together", list(given, "and")))
            .label("expected only one of them")
            .hint("keep one and delete the others");
        if let Some(last) = keys.pop() {
            problem = problem.at(last);
        }
        keys.into_iter().fold(problem, |problem, key| problem.also(key, "given already"))
    }

    /// A value that fits more than one of the forms that exclude each other.
    pub(super) fn several_fit(&self, error: &ValidationError<'_>, path: &Path) -> Problem {
        let groups = fields::demanded(self.schema, error.schema_path().as_str());
        let given = self.given(error.instance(), &groups);
        if given.len() > 1 {
            return self.both_given(path, &given);
        }
        self.at_value(path, self.found(error, path), "expected one form, but this fits several")
    }

    /// The first field of each group whose fields are all given.
    pub(super) fn given(&self, instance: &Value, groups: &[Vec<String>]) -> Vec<String> {
        let complete =
            groups.iter().filter(|group| !group.is_empty() && group.iter().all(|name| instance.get(name).is_some()));
        complete.filter_map(|group| group.first().cloned()).collect()
    }

    /// The name of a field in a map that is free but for its form.
    pub(super) fn bad_name(&self, error: &ValidationError<'_>, part: &Path) -> Problem {
        let name = error.instance().as_str().unwrap_or_default();
        let problem =
            Problem::error(format!("`{name}` cannot be a name here")).at(self.places.key(part.clone().key(name)));
        let problem = match error.kind() {
            Kind::Pattern { pattern } => problem.label(format!("expected a name of the form `{pattern}`")),
            Kind::Enum { options } => {
                let words: Vec<&str> = options.as_array().into_iter().flatten().filter_map(Value::as_str).collect();
                let problem = problem.label(format!("expected {}", list(&words, "or")));
                match nearest(name, words.iter().copied()) {
                    Some(near) => problem.hint(format!("did you mean `{near}`?")),
                    None => problem,
                }
            }
            Kind::MinLength { limit } => problem.label(format!("expected at least {limit} characters")),
            Kind::MaxLength { limit } => problem.label(format!("expected at most {limit} characters")),
            _ => problem.label("expected another name"),
        };
        match fields::description(self.schema, error.schema_path().as_str()) {
            Some(words) if problem.hint.is_none() => problem.hint(words),
            _ => problem,
        }
    }
}

/// Groups of fields as alternatives: `a`, `b` with `c`, …
fn alternatives(groups: &[Vec<String>], last: &str) -> String {
    let phrases: Vec<String> =
        groups.iter().filter(|group| !group.is_empty()).map(|group| list(group, "with")).collect();
    join(&phrases, last)
}

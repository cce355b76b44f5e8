//! Values with several possible forms of which none fits. In: what each form has against the value.
//! Out: the problems of the form that was most likely meant. It must not report the forms that were not meant.

use jsonschema::{ValidationError, error::ValidationErrorKind as Kind};

use super::{
    fields,
    translate::{Findings, Translator, UnknownField, path_of},
    values::words,
    wording,
};
use crate::{experiment::place::Path, report::Problem};

type Branch = Vec<ValidationError<'static>>;

impl Translator<'_> {
    /// The problems of the likeliest branch.
    pub(super) fn branches(
        &self,
        error: &ValidationError<'_>,
        path: &Path,
        context: &[Branch],
        findings: &mut Findings,
    ) {
        let fitting: Vec<&Branch> = context.iter().filter(|branch| !refuses_kind(branch, path)).collect();
        if fitting.is_empty() {
            findings.problems.push(self.no_kind_fits(error, path, context));
            return;
        }
        let chosen: Vec<&Branch> = fitting.iter().copied().filter(|branch| tags(branch, path).is_empty()).collect();
        if chosen.is_empty() {
            self.no_tag_fits(&fitting, path, findings);
            return;
        }
        let groups = fields::demanded(self.schema, error.schema_path().as_str());
        let exclusive = groups.iter().filter(|group| !group.is_empty()).count() > 1 && chosen.len() > 1;
        if exclusive && error.instance().is_object() {
            let given = self.given(error.instance(), &groups);
            if given.len() > 1 {
                findings.problems.push(self.both_given(path, &given));
                return;
            }
            if given.is_empty() {
                self.none_of(error, path, groups, findings);
                return;
            }
        }
        let best = chosen.into_iter().min_by_key(|branch| {
            let here = |inner: &&ValidationError<'static>| path_of(inner.instance_path()) == *path;
            (branch.iter().filter(here).count(), branch.len())
        });
        for inner in best.into_iter().flatten() {
            self.one(inner, findings);
        }
    }

    /// No form's own field is given: notes that, and the fields that none of the forms knows.
    fn none_of(&self, error: &ValidationError<'_>, path: &Path, groups: Vec<Vec<String>>, findings: &mut Findings) {
        let place = error.schema_path().as_str();
        if fields::is_closed(self.schema, place) {
            let known = fields::alternatives(self.schema, place);
            let given = error.instance().as_object().into_iter().flat_map(|fields| fields.keys());
            for name in given.filter(|name| !known.contains(name)) {
                findings.unknown.push(UnknownField { part: path.clone(), name: name.clone(), known: known.clone() });
            }
        }
        findings.none_given.push((path.clone(), groups));
    }

    /// No form takes a value of this kind: names the kinds and words that are taken.
    fn no_kind_fits(&self, error: &ValidationError<'_>, path: &Path, context: &[Branch]) -> Problem {
        let mut kinds: Vec<&str> = Vec::new();
        let mut allowed: Vec<&str> = Vec::new();
        for branch in context {
            let here = branch.iter().filter(|inner| path_of(inner.instance_path()) == *path);
            let mut branch_kinds = Vec::new();
            let mut branch_words = Vec::new();
            for inner in here {
                match inner.kind() {
                    Kind::Type { kind } => branch_kinds.extend(wording::kinds(kind)),
                    Kind::Enum { options } => branch_words.extend(words(options)),
                    Kind::Constant { expected_value } => branch_words.extend(words(expected_value)),
                    _ => {}
                }
            }
            let named = if branch_words.is_empty() { &mut kinds } else { &mut allowed };
            let more = if branch_words.is_empty() { branch_kinds } else { branch_words };
            named.extend(more);
        }
        kinds.retain(|kind| *kind != "nothing");
        kinds.dedup();
        if allowed.is_empty() {
            self.wrong_kind(error, path, &kinds)
        } else {
            self.choice(error, path, &allowed, &kinds)
        }
    }

    /// No form has this word in the field that tells the forms apart: names the words of all.
    fn no_tag_fits(&self, branches: &[&Branch], path: &Path, findings: &mut Findings) {
        let faults: Vec<(&ValidationError<'static>, Path)> =
            branches.iter().flat_map(|branch| tags(branch, path)).collect();
        let Some((first, place)) = faults.first() else { return };
        let same = faults.iter().filter(|(_, other)| other == place);
        let allowed: Vec<&str> = same
            .flat_map(|(fault, _)| match fault.kind() {
                Kind::Enum { options } => words(options),
                Kind::Constant { expected_value } => words(expected_value),
                _ => Vec::new(),
            })
            .collect();
        findings.problems.push(self.choice(first, place, &allowed, &[]));
    }
}

/// Whether a branch is for values of another kind, or for other words.
fn refuses_kind(branch: &[ValidationError<'static>], path: &Path) -> bool {
    branch.iter().any(|inner| {
        matches!(inner.kind(), Kind::Type { .. } | Kind::Enum { .. } | Kind::Constant { .. })
            && path_of(inner.instance_path()) == *path
    })
}

/// Fields right below the value that hold another word than the branch asks for.
fn tags<'b>(branch: &'b [ValidationError<'static>], path: &Path) -> Vec<(&'b ValidationError<'static>, Path)> {
    let constant = branch.iter().filter(|inner| matches!(inner.kind(), Kind::Constant { .. }));
    let below = constant.map(|inner| (inner, path_of(inner.instance_path())));
    below.filter(|(_, inner)| inner.segments().len() == path.segments().len() + 1).collect()
}

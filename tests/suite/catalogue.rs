//! The catalogue: every experiment is sound, translated, and printable in every language and edition.

use std::collections::BTreeSet;

use labquire::{
    experiment::{self, catalogue},
    language::Language,
    report::{Source, show},
    review, variant,
};
use rayon::prelude::*;

use crate::set::labquire;

#[test]
fn every_experiment_is_sound_and_named_as_its_file() {
    for source in catalogue::sources() {
        let (experiment, warnings) =
            review::check(&source).unwrap_or_else(|problems| panic!("{}", ::labquire::report::show(&problems, false)));
        assert_eq!(format!("{}.yaml", experiment.definition.id), source.name);
        assert!(warnings.is_empty(), "{}", ::labquire::report::show(&warnings, false));
        let tasks = experiment.tasks.len();
        assert!((8..=14).contains(&tasks), "{}: {tasks} tasks", source.name);
    }
}

#[test]
fn every_experiment_validates_against_its_schema() {
    let schema = experiment::schema();
    for source in catalogue::sources() {
        let document: serde_json::Value = serde_yaml::from_str(&source.text).expect("YAML");
        let validator = jsonschema::validator_for(&schema).expect("a schema");
        let faults: Vec<String> = validator.iter_errors(&document).map(|fault| fault.to_string()).collect();
        assert!(faults.is_empty(), "{}: {faults:?}", source.name);
    }
}

/// Conditions that some student's instruments can never meet would stop a whole class: none of 400 fails in any experiment.
#[test]
fn every_student_can_be_drawn() {
    let ids: Vec<String> = (0..400).map(|id| id.to_string()).collect();
    for source in catalogue::sources() {
        let (experiment, _) = experiment::load(&source).expect("sound");
        let failed: Vec<_> =
            ids.par_iter().filter_map(|id| variant::draw(&experiment, "everybody", id).err()).collect();
        assert!(failed.is_empty(), "{}: {failed:?}", source.name);
    }
}

#[test]
fn every_experiment_speaks_every_language() {
    let all: BTreeSet<&str> = Language::all().iter().map(|language| language.code.as_str()).collect();
    for source in catalogue::sources() {
        let (experiment, _) = experiment::load(&source).expect("sound");
        let own: BTreeSet<&str> = experiment.definition.title.languages().collect();
        // That every other text has the languages of the title is a matter of `check`.
        assert_eq!(own, all, "{}", source.name);
    }
}

/// A text that lacks a language is named with its place.
#[test]
fn a_missing_translation_is_found() {
    let text = catalogue::find("mixing").expect("built in").text.clone();
    let line = text.lines().find(|line| line.trim_start().starts_with("fr: bloc")).expect("a French text");
    let source = Source::new("mixing.yaml", text.replacen(&format!("{line}\n"), "", 1));
    let (_, warnings) = review::check(&source).expect("no error");
    let told = show(&warnings, false);
    assert!(told.contains("the text has no `fr`") && told.contains("--> mixing.yaml:"), "{told}");
}

/// Sheets of all editions and languages in one class, in both sizes of print, on both papers; keys, grid and notes in a
/// language that goes round.
#[test]
fn every_experiment_prints_in_every_language_and_edition() {
    let dir = tempfile::TempDir::new().expect("a temporary folder");
    let class = dir.path().join("class.csv");
    let mut rows = String::from("name,edition,lang,print\n");
    for (place, language) in Language::all().iter().enumerate() {
        for edition in ["support", "core", "extension"] {
            let print = if place == 1 && edition == "core" { "large" } else { "normal" };
            rows.push_str(&format!("{edition} {0},{edition},{0},{print}\n", language.code));
        }
    }
    std::fs::write(&class, rows).expect("a class file");
    for (place, id) in catalogue::ids().into_iter().enumerate() {
        for (turn, paper) in ["a4", "letter"].into_iter().enumerate() {
            let language = &Language::all()[(place + 2 * turn) % Language::all().len()];
            let out = dir.path().join(format!("{id}-{paper}"));
            let (class, out) = (class.to_str().expect("text"), out.to_str().expect("text"));
            let make = ["make", &id, "--class", class, "--lang", &language.code, "--paper", paper, "--out", out];
            let (ending, _, err) = labquire(&make);
            assert_eq!(ending.code(), 0, "{id} in {}: {err}", language.code);
        }
    }
}

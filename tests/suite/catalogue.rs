//! The catalogue: every experiment is sound, translated, and printable in every language and edition.

use labquire::{
    experiment::{self, catalogue},
    language::Language,
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
fn every_experiment_prints_in_every_language_and_edition() {
    let dir = tempfile::TempDir::new().expect("a temporary folder");
    let class = dir.path().join("class.csv");
    std::fs::write(&class, "name,edition,print\nA,support,\nB,core,\nC,extension,\nD,core,large\n")
        .expect("a class file");
    for id in catalogue::ids() {
        for language in Language::all() {
            for paper in ["a4", "letter"] {
                let out = dir.path().join(format!("{id}-{}-{paper}", language.code));
                let (class, out) = (class.to_str().expect("text"), out.to_str().expect("text"));
                let (ending, _, err) = labquire(&[
                    "make",
                    &id,
                    "--class",
                    class,
                    "--lang",
                    &language.code,
                    "--paper",
                    paper,
                    "--out",
                    out,
                ]);
                assert_eq!(ending.code(), 0, "{id} in {}: {err}", language.code);
            }
        }
    }
}

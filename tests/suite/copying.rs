//! What copying pays: within the limit for every pair, whatever the order of the class; printed sets can be added to.

use std::{collections::BTreeMap, path::Path};

use labquire::{
    class::{Edition, Roster, Student},
    commands::Ending,
    copying::{CopyLimit, Expected},
    experiment::{self, Experiment, catalogue},
    language::Language,
    set::{Draft, Held, SetPlan},
};
use proptest::prelude::*;
use serde_json::Value;
use tempfile::TempDir;

use crate::set::labquire;

fn experiment(id: &str) -> Experiment {
    experiment::load(&catalogue::find(id).expect("in the catalogue")).expect("sound").0
}

fn class(ids: impl IntoIterator<Item = String>) -> Roster {
    let student = |id: String| Student {
        name: format!("Student {id}"),
        id,
        edition: None,
        seat: None,
        group: None,
        lang: None,
        large: false,
    };
    Roster { name: "class".to_owned(), students: ids.into_iter().map(student).collect() }
}

fn plan<'a>(
    experiment: &'a Experiment,
    roster: &'a Roster,
    edition: Edition,
    held: &'a BTreeMap<String, Held>,
) -> SetPlan<'a> {
    let language = Language::find("en").expect("English");
    let limit = CopyLimit::default();
    SetPlan { experiment, roster, seed: "fixed", edition, language, names: true, versions: None, limit, held }
}

/// The share of marks that one's printed answers earn on another's sheet, from what is printed alone.
fn share(experiment: &Experiment, edition: Edition, from: &labquire::key::Key, on: &labquire::key::Key) -> f64 {
    let (mut earned, mut all) = (0.0, 0.0);
    for (index, task) in experiment.tasks_of(edition) {
        let (Some(from), Some(on)) = (from.number(index), on.number(index)) else { continue };
        let marks = f64::from(experiment.definition.tasks[index].marks.total());
        let copied: f64 = from.text.parse().expect("a number");
        let (low, high): (f64, f64) =
            (on.accept.0.text.parse().expect("a number"), on.accept.1.text.parse().expect("a number"));
        all += marks;
        earned += if (low..=high).contains(&copied) { marks } else { 0.0 };
        assert!(task.editions.contains(&edition));
    }
    if all > 0.0 { earned / all } else { 0.0 }
}

/// The ordered pairs of a draft that are above a fifth, by the members' places.
fn above(experiment: &Experiment, edition: Edition, draft: &Draft<'_>) -> Vec<(usize, usize)> {
    let count = draft.members.len();
    let pairs = (0..count).flat_map(|from| (0..count).map(move |on| (from, on))).filter(|(from, on)| from != on);
    let key = |place: usize| &draft.members[place].key;
    pairs.filter(|&(from, on)| share(experiment, edition, key(from), key(on)) > 0.2 + 1e-9).collect()
}

/// A class of thirty in each edition of each experiment: all pairs are within a fifth, or the shortfall is told rightly.
fn thirty(edition: Edition) {
    let held = BTreeMap::new();
    let roster = class((1..=30).map(|id| id.to_string()));
    for id in catalogue::ids() {
        let experiment = experiment(&id);
        let draft = plan(&experiment, &roster, edition, &held).draft(|_, _| true).expect("drawn");
        let above = above(&experiment, edition, &draft);
        match draft.crowds.as_slice() {
            [] => assert_eq!(above, [], "{id}, {edition:?}"),
            [crowd] => {
                assert_eq!((crowd.edition, crowd.sheets), (edition, 30), "{id}");
                // Those kept apart are a set without any pair above the limit: leaving out the others leaves none.
                let mut involved: Vec<usize> = above.iter().flat_map(|&(from, on)| [from, on]).collect();
                involved.sort_unstable();
                involved.dedup();
                assert!(crowd.apart >= 30 - involved.len(), "{id}, {edition:?}: {crowd:?}, {involved:?}");
                assert!(crowd.apart < 30);
            }
            more => panic!("{id}: {more:?}"),
        }
    }
}

#[test]
fn thirty_core_sheets_are_apart_or_the_shortfall_is_told() {
    thirty(Edition::Core);
}

#[test]
fn thirty_support_sheets_are_apart_or_the_shortfall_is_told() {
    thirty(Edition::Support);
}

#[test]
fn thirty_extension_sheets_are_apart_or_the_shortfall_is_told() {
    thirty(Edition::Extension);
}

#[test]
fn the_order_of_the_class_plays_no_part() {
    let (experiment, held) = (experiment("plate-radiation"), BTreeMap::new());
    let forth = class((1..=24).map(|id| id.to_string()));
    let back = class((1..=24).rev().map(|id| id.to_string()));
    let one = plan(&experiment, &forth, Edition::Core, &held).draft(|_, _| true).expect("drawn");
    let other = plan(&experiment, &back, Edition::Core, &held).draft(|_, _| true).expect("drawn");
    assert!(one.members.iter().any(|member| member.redrawn > 0), "nobody had to be redrawn: the test shows nothing");
    for member in &one.members {
        let again = other.members.iter().find(|again| again.student.id == member.student.id).expect("the same class");
        assert_eq!((&member.variant, member.redrawn), (&again.variant, again.redrawn));
    }
}

#[test]
fn whoever_comes_behind_the_others_moves_nobody() {
    let (experiment, held) = (experiment("plate-radiation"), BTreeMap::new());
    let (few, more) = (class((1..=12).map(|id| id.to_string())), class((1..=24).map(|id| id.to_string())));
    let few = plan(&experiment, &few, Edition::Core, &held).draft(|_, _| true).expect("drawn");
    let more = plan(&experiment, &more, Edition::Core, &held).draft(|_, _| true).expect("drawn");
    for (one, other) in few.members.iter().zip(&more.members) {
        assert_eq!((&one.student.id, &one.variant), (&other.student.id, &other.variant));
    }
}

fn make(dir: &Path, words: &[&str]) -> (Ending, Value, String) {
    let out = dir.join("set");
    let mut line = vec!["make", "--pdf", "plain"];
    line.extend(words);
    let out_text = out.to_str().expect("text").to_owned();
    if !words.contains(&"--extend") {
        line.extend(["--out", &out_text]);
    }
    let (ending, _, err) = labquire(&line);
    let record =
        std::fs::read(out.join("set.json")).map_or(Value::Null, |bytes| serde_json::from_slice(&bytes).expect("JSON"));
    (ending, record, err)
}

fn write_class(dir: &Path, ids: &[&str]) -> String {
    let file = dir.join("class.csv");
    let rows: String = ids.iter().map(|id| format!("{id},Student {id}\n")).collect();
    std::fs::write(&file, format!("id,name\n{rows}")).expect("a class file");
    file.to_str().expect("text").to_owned()
}

fn student<'a>(record: &'a Value, id: &str) -> &'a Value {
    record["students"].as_array().expect("students").iter().find(|student| student["id"] == id).expect(id)
}

/// Students are added in front of the others, where a set made anew would move them: all that was printed stays.
#[test]
fn a_printed_set_is_added_to_and_stays_as_it_is() {
    let dir = TempDir::new().expect("a temporary folder");
    let old: Vec<String> = (10..=24).map(|id| id.to_string()).collect();
    let old: Vec<&str> = old.iter().map(String::as_str).collect();
    let file = write_class(dir.path(), &old);
    let (ending, before, err) = make(dir.path(), &["cooling-curve", "--class", &file, "--seed", "fixed"]);
    assert_eq!(ending, Ending::Done, "{err}");
    let new = ["1", "2", "3", "10", "11"];
    let file = write_class(dir.path(), &new);
    let folder = dir.path().join("set");
    let (ending, after, err) =
        make(dir.path(), &["cooling-curve", "--class", &file, "--extend", folder.to_str().expect("text")]);
    assert_eq!((ending, err.as_str()), (Ending::Done, ""), "nothing to warn of");
    assert_eq!(after["students"].as_array().expect("students").len(), 18);
    assert_eq!(after["seed"], "fixed");
    for id in old {
        assert_eq!(student(&before, id), student(&after, id), "{id}");
    }
    let codes: std::collections::BTreeSet<String> =
        after["students"].as_array().expect("students").iter().map(|student| student["code"].to_string()).collect();
    assert_eq!(codes.len(), 18);
    // The whole is within the limit all the same.
    let total = |student: &Value| -> f64 {
        student["answers"]
            .as_object()
            .expect("answers")
            .values()
            .filter(|one| one.get("accept").is_some())
            .map(|one| one["marks"].as_f64().expect("marks"))
            .sum()
    };
    let earned = |from: &Value, on: &Value| -> f64 {
        let answers = on["answers"].as_object().expect("answers").iter().filter(|(_, one)| one.get("accept").is_some());
        answers
            .filter(|(task, one)| {
                let copied = from["answers"][task.as_str()]["value"].as_f64().expect("a value");
                let end = |place: usize| one["accept"][place].as_f64().expect("an end");
                (end(0)..=end(1)).contains(&copied)
            })
            .map(|(_, one)| one["marks"].as_f64().expect("marks"))
            .sum()
    };
    let students = after["students"].as_array().expect("students");
    for from in students {
        for on in students.iter().filter(|on| on["id"] != from["id"]) {
            assert!(earned(from, on) <= 0.2 * total(on) + 1e-9, "{} on {}", from["id"], on["id"]);
        }
    }
}

/// One sheet of a set that was added to can only be had from its record: it is printed beside the set, which stays whole.
#[test]
fn a_lost_sheet_is_printed_again_from_the_record() {
    let dir = TempDir::new().expect("a temporary folder");
    let file = write_class(dir.path(), &["7", "8", "9"]);
    let (_, before, _) = make(dir.path(), &["mixing", "--class", &file]);
    let folder = dir.path().join("set");
    let text = folder.to_str().expect("text");
    let code = student(&before, "8")["code"].as_str().expect("a code");
    let (ending, after, err) = make(dir.path(), &["mixing", "--extend", text, "--only", code]);
    assert_eq!((ending, err.as_str()), (Ending::Done, ""));
    assert_eq!(after, before, "the set is as it was");
    let reprint = std::fs::read(dir.path().join("set-reprint/set.json")).expect("a record beside the set");
    let reprint: Value = serde_json::from_slice(&reprint).expect("JSON");
    assert_eq!(reprint["students"].as_array().expect("students"), &[student(&before, "8").clone()]);
}

#[test]
fn a_set_of_another_experiment_is_not_added_to() {
    let dir = TempDir::new().expect("a temporary folder");
    let file = write_class(dir.path(), &["1", "2"]);
    make(dir.path(), &["mixing", "--class", &file]);
    let folder = dir.path().join("set");
    let folder = folder.to_str().expect("text");
    let (ending, record, err) = make(dir.path(), &["cooling-curve", "--class", &file, "--extend", folder]);
    assert_eq!(ending, Ending::Input);
    assert!(err.contains("`mixing`") && err.contains("`cooling-curve`"), "{err}");
    assert_eq!(record["experiment"], "mixing", "nothing was touched");
}

#[test]
fn a_record_that_is_none_is_refused_with_its_place() {
    let dir = TempDir::new().expect("a temporary folder");
    let file = write_class(dir.path(), &["1", "2"]);
    let folder = dir.path().join("set");
    let text = folder.to_str().expect("text");
    let (ending, _, err) = make(dir.path(), &["mixing", "--class", &file, "--extend", text]);
    assert_eq!(ending, Ending::Input);
    assert!(err.contains("set.json") && err.contains("labquire make"), "{err}");
    std::fs::create_dir(&folder).expect("a folder");
    std::fs::write(folder.join("set.json"), "{\n  \"format\": 1,\n  \"seed\": 7 }").expect("a file");
    let (ending, _, err) = labquire(&["make", "mixing", "--class", &file, "--extend", text]);
    assert_eq!(ending, Ending::Input);
    assert!(err.contains("set.json:3:"), "{err}");
}

#[test]
fn versions_share_readings_and_keys_are_printed_once() {
    let dir = TempDir::new().expect("a temporary folder");
    let file = dir.path().join("class.csv");
    let rows: String = ('A'..='C')
        .flat_map(|row| (1..=4).map(move |number| format!("{row}{number},Student {row}{number},{row}{number}\n")))
        .collect();
    std::fs::write(&file, format!("id,name,seat\n{rows}")).expect("a class file");
    let file = file.to_str().expect("text");
    let (ending, record, err) = make(dir.path(), &["pumped-loop", "--class", file, "--versions", "4"]);
    assert_eq!((ending, err.as_str()), (Ending::Done, ""));
    assert_eq!(record["versions"], 4);
    let students = record["students"].as_array().expect("students");
    for one in students {
        for other in students {
            assert_eq!(one["version"] == other["version"], one["readings"] == other["readings"]);
            assert_eq!(one["id"] == other["id"], one["code"] == other["code"]);
        }
    }
    let keys = std::fs::read(dir.path().join("set/keys.pdf")).expect("keys");
    let text = String::from_utf8_lossy(&keys);
    // Two pages a key, so eight in all instead of two for each of twelve students.
    assert!(text.contains("/Type/Pages/Count 8"), "not eight pages");
    let (_, _, err) = make(dir.path(), &["pumped-loop", "--class", file, "--versions", "3", "--force"]);
    assert!(err.contains("3 versions are too few") && err.contains("A1 and "), "{err}");
}

#[test]
fn a_share_is_read_as_teachers_write_it() {
    for text in ["20%", "20 %", "20", "0.2", "0,2"] {
        assert_eq!(text.parse::<CopyLimit>(), Ok(CopyLimit::default()), "{text}");
    }
    for text in ["", "a fifth", "120%", "-5%", "NaN"] {
        assert!(text.parse::<CopyLimit>().is_err(), "{text}");
    }
    assert!(CopyLimit::default().allows(3, 15) && !CopyLimit::default().allows(4, 15));
}

proptest! {
    /// Whoever copies from a sheet with the same readings earns everything, and never more than everything.
    #[test]
    fn marks_earned_lie_between_none_and_all(one in 0..40u32, other in 0..40u32) {
        let experiment = experiment("mixing");
        let expected = |id: u32| {
            let id = id.to_string();
            let variant = labquire::variant::draw(&experiment, "s", &id).expect("drawn");
            let key = labquire::key::Key::build(&experiment, &variant, &id).expect("keyed");
            Expected::of(&experiment, Edition::Core, &key)
        };
        let (one, other) = (expected(one), expected(other));
        prop_assert_eq!(one.earned_with(&one.offer), one.marks());
        prop_assert!(one.earned_with(&other.offer) <= one.marks());
    }
}

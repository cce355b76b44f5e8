//! What copying pays: within the limit for every pair, whatever the order of the class; versions part neighbours.

use labquire::{
    class::{Edition, Roster, Student},
    commands::Ending,
    copying::{CopyLimit, Expected},
    experiment::{self, Experiment, catalogue},
    language::Language,
    set::{Draft, Member, SetPlan},
};
use proptest::prelude::*;
use tempfile::TempDir;

use crate::adding::make;

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

fn draft<'a>(experiment: &'a Experiment, roster: &'a Roster, edition: Edition) -> Draft<'a> {
    let language = Language::find("en").expect("English");
    let plan = SetPlan { edition, ..SetPlan::new(experiment, roster, "fixed", language) };
    plan.draft(|_, _| true).expect("drawn")
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
    let owns: Vec<_> = draft.members.iter().map(Member::own).collect();
    let key = |place: usize| &owns[place].key;
    pairs.filter(|&(from, on)| share(experiment, edition, key(from), key(on)) > 0.2 + 1e-9).collect()
}

/// A class of thirty in each edition of each experiment: all pairs are within a fifth, or the shortfall is told rightly.
fn thirty(edition: Edition) {
    let roster = class((1..=30).map(|id| id.to_string()));
    for id in catalogue::ids() {
        let experiment = experiment(&id);
        let draft = draft(&experiment, &roster, edition);
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
    let experiment = experiment("plate-radiation");
    let forth = class((1..=24).map(|id| id.to_string()));
    let back = class((1..=24).rev().map(|id| id.to_string()));
    let one = draft(&experiment, &forth, Edition::Core);
    let other = draft(&experiment, &back, Edition::Core);
    assert!(one.members.iter().any(|member| member.redrawn > 0), "nobody had to be redrawn: the test shows nothing");
    for member in &one.members {
        let again = other.members.iter().find(|again| again.student.id == member.student.id).expect("the same class");
        assert_eq!((member.own().variant, member.redrawn), (again.own().variant, again.redrawn));
    }
}

#[test]
fn whoever_comes_behind_the_others_moves_nobody() {
    let experiment = experiment("plate-radiation");
    let (few, more) = (class((1..=12).map(|id| id.to_string())), class((1..=24).map(|id| id.to_string())));
    let few = draft(&experiment, &few, Edition::Core);
    let more = draft(&experiment, &more, Edition::Core);
    for (one, other) in few.members.iter().zip(&more.members) {
        assert_eq!((&one.student.id, one.own().variant), (&other.student.id, other.own().variant));
    }
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

//! Whom to look at again. In: classes of known honesty. Out: pass or fail, and the rates, which stand in the module's head.

use labquire::{
    class::{Edition, Roster, Student},
    experiment::{self, Experiment, catalogue},
    key::SlipKind,
    language::Language,
    marking::{
        Entry, FilledForm, FilledRow, Typed, TypedUnit, Verdict, Why,
        look_again::{chance, tail},
        mark,
    },
    set::{Member, SetPlan},
};
use rand::{RngExt, SeedableRng};
use rand_chacha::ChaCha20Rng as StdRng;

use crate::reference::assert_near;

const CLASS: usize = 30;

/// A number in three significant figures, as on a sheet.
fn typed(value: f64) -> Entry {
    rounded(value, 3)
}

fn rounded(value: f64, figures: i32) -> Entry {
    let text = format!("{value:.*e}", figures as usize - 1);
    let value: f64 = text.parse().expect("a number");
    let half = 0.5 * 10_f64.powf(value.abs().log10().floor() - f64::from(figures - 1));
    Entry::Number(Typed { text, value, other: None, figures: None, half, unit: TypedUnit::None })
}

/// The number as the key prints it.
fn printed(text: &str) -> Entry {
    let value = text.parse().expect("a number");
    Entry::Number(Typed { text: text.to_owned(), value, other: None, figures: None, half: 0.0, unit: TypedUnit::None })
}

fn student(place: usize, edition: Option<Edition>) -> Student {
    let id = place.to_string();
    Student { name: id.clone(), id, edition, seat: None, group: None, lang: None, large: false }
}

fn loaded(id: &str) -> Experiment {
    experiment::load(&catalogue::find(id).expect("built in")).expect("sound").0
}

/// A row of the form in which every numeric task of the student's own sheet has the answer of another's key.
fn copied_whole(experiment: &Experiment, members: &[Member<'_>], place: usize, from: usize) -> FilledRow {
    let tasks = experiment.tasks.iter().enumerate();
    let entries = tasks
        .map(|(index, task)| match members[from].own().key.number(index) {
            _ if !task.editions.contains(&members[place].edition) => Entry::Outside,
            Some(key) => printed(&key.text),
            None => Entry::Points(1),
        })
        .collect();
    FilledRow { student: place, sheet: place, entries, fixed: None }
}

/// A student's own answers: right ones, and one in four wrong in an ordinary way.
fn honest(experiment: &Experiment, member: &Member<'_>, random: &mut StdRng) -> Vec<Entry> {
    let tasks = experiment.tasks.iter().enumerate();
    tasks
        .map(|(index, task)| {
            if !task.editions.contains(&member.edition) {
                return Entry::Outside;
            }
            let own = member.own();
            let Some(key) = own.key.number(index) else { return Entry::Points(1) };
            if random.random_range(0..4) > 0 {
                return printed(&key.text);
            }
            let listed: Vec<f64> = key
                .slips
                .iter()
                .filter(|slip| matches!(slip.kind, SlipKind::Listed(_)))
                .map(|slip| slip.value)
                .collect();
            match random.random_range(0..7) {
                0 => Entry::Blank,
                1 => typed(key.value * 10_f64.powi(random.random_range(-3..=3))),
                2 if !listed.is_empty() => typed(listed[random.random_range(0..listed.len())]),
                // A row misread, a number copied wrongly.
                3 => typed(key.value * (1.0 + random.random_range(-0.15..0.15))),
                // Rounded too coarsely.
                4 => rounded(key.value, random.random_range(1..=2)),
                _ => typed(key.value * 2_f64.powf(random.random_range(-1.0..1.0))),
            }
        })
        .collect()
}

struct Trial {
    honest: usize,
    listed: usize,
    copies: usize,
    found: usize,
}

/// Classes of an experiment: all honest, and with one in six who copies at least four answers of the student before.
fn trial(id: &str, seed: &str, classes: u64) -> Trial {
    let experiment = loaded(id);
    let roster = Roster { name: "9b".into(), students: (0..CLASS).map(|place| student(place, None)).collect() };
    let plan = SetPlan::new(&experiment, &roster, seed, Language::find("en").expect("English"));
    let members = plan.draft(|_, _| true).map_err(|_| "refused").expect("drawn").members;
    let mut total = Trial { honest: 0, listed: 0, copies: 0, found: 0 };
    for class in 0..classes {
        let mut random = StdRng::seed_from_u64(class);
        let mut rows: Vec<FilledRow> = (0..CLASS)
            .map(|place| FilledRow {
                student: place,
                sheet: place,
                entries: honest(&experiment, &members[place], &mut random),
                fixed: None,
            })
            .collect();
        let form = |rows: &[FilledRow]| FilledForm { rows: rows.to_vec(), notices: Vec::new() };
        total.honest += CLASS;
        total.listed += mark(&experiment, &members, &form(&rows)).look_again.len();
        let copying: Vec<usize> = (1..CLASS).step_by(6).collect();
        for &place in &copying {
            let numeric: Vec<usize> = (0..experiment.tasks.len())
                .filter(|&task| {
                    experiment.tasks[task].editions.contains(&members[place].edition)
                        && members[place].own().key.number(task).is_some()
                })
                .collect();
            let many = random.random_range(4..=numeric.len().max(4)).min(numeric.len());
            let mut left = numeric.clone();
            for _ in 0..many {
                let task = left.swap_remove(random.random_range(0..left.len()));
                rows[place].entries[task] = printed(&members[place - 1].own().key.number(task).expect("a number").text);
            }
        }
        let listed = mark(&experiment, &members, &form(&rows)).look_again;
        total.copies += copying.len();
        total.found += copying
            .iter()
            .filter(|&&place| listed.iter().any(|one| one.student == place && one.sheet == place - 1))
            .count();
    }
    total
}

/// The rates over experiments, each with a set of its own: honest students listed, copies seen, in shares.
fn rates(ids: impl Iterator<Item = String>, seed: &str, classes: u64) -> (f64, f64) {
    let mut all = Trial { honest: 0, listed: 0, copies: 0, found: 0 };
    for id in ids {
        let one = trial(&id, seed, classes);
        eprintln!(
            "{id}: {} of {} honest students listed, {} of {} copies seen",
            one.listed, one.honest, one.found, one.copies
        );
        all.honest += one.honest;
        all.listed += one.listed;
        all.copies += one.copies;
        all.found += one.found;
    }
    eprintln!("all: {} of {} honest, {} of {} copies", all.listed, all.honest, all.found, all.copies);
    (all.listed as f64 / all.honest as f64, all.found as f64 / all.copies as f64)
}

/// On honest classes with ordinary errors at most 1 in 100 students is listed; of those who copied four answers or more at
/// least 95 in 100 are, with the right sheet. Every third experiment of the catalogue.
#[test]
fn honest_students_are_left_alone_and_copies_are_seen() {
    let (listed, found) = rates(catalogue::ids().into_iter().step_by(3), "look again", 16);
    assert!(listed <= 0.01, "{listed} of the honest students are listed");
    assert!(found >= 0.95, "{found} of the copies are seen");
}

/// The same for every experiment; its rates stand in the head of `marking::look_again`.
#[test]
#[ignore = "takes a minute; for those who change the rule"]
fn rates_of_the_whole_catalogue() {
    let (listed, found) = rates(catalogue::ids().into_iter(), "whole catalogue", 40);
    assert!(listed <= 0.01 && found >= 0.95, "{listed} listed, {found} seen");
}

/// With three versions there are two other sheets, in whatever order their students come: the chance is that of the
/// matches times two.
#[test]
fn a_version_counts_once() {
    let experiment = loaded("pumped-loop");
    let roster = Roster { name: "9b".into(), students: (0..CLASS).map(|place| student(place, None)).collect() };
    let mut plan = SetPlan::new(&experiment, &roster, "versions", Language::find("en").expect("English"));
    plan.versions = Some(3);
    let members = plan.draft(|_, _| true).map_err(|_| "refused").expect("drawn").members;
    let form = FilledForm { rows: vec![copied_whole(&experiment, &members, 0, 1)], notices: Vec::new() };
    let marking = mark(&experiment, &members, &form);
    let found = &marking.look_again;
    assert_eq!(found.len(), 1, "{found:?}");
    assert!(members[found[0].sheet].own().variant == members[1].own().variant, "{found:?}");
    // Alone in the form: nobody else's wrong answers say what is likely.
    let wrong = marking.students[0].attempts.iter().enumerate().filter_map(|(task, attempt)| {
        let attempt = attempt.as_ref()?;
        (attempt.verdict == Verdict::Wrong && attempt.why == Why::Plain).then_some(task)
    });
    let (first, second) = (members[0].own(), members[1].own());
    let chances: Vec<f64> = wrong
        .filter_map(|task| {
            let (own, other) = (first.key.number(task)?, second.key.number(task)?);
            Some(chance(other.accept.0.value / own.value, other.accept.1.value / own.value, &[]))
        })
        .collect();
    let expected = 2.0 * tail(&chances, found[0].tasks.len());
    let off = (found[0].probability / expected - 1.0).abs();
    assert!(off < 1e-9, "{} in place of {expected}", found[0].probability);
}

/// An answer cannot have come from a sheet that does not ask for it, though the key knows it.
#[test]
fn tasks_that_the_other_sheet_lacks_do_not_count() {
    let mut left_out = 0;
    for id in catalogue::ids() {
        let experiment = loaded(&id);
        let editions = [Edition::Extension, Edition::Support];
        let students = editions.iter().enumerate().map(|(place, edition)| student(place, Some(*edition))).collect();
        let roster = Roster { name: "9b".into(), students };
        let plan = SetPlan::new(&experiment, &roster, "editions", Language::find("en").expect("English"));
        let members = plan.draft(|_, _| true).map_err(|_| "refused").expect("drawn").members;
        let form = FilledForm { rows: vec![copied_whole(&experiment, &members, 0, 1)], notices: Vec::new() };
        let marking = mark(&experiment, &members, &form);
        let asked = |task: usize| experiment.tasks[task].editions.contains(&Edition::Support);
        let attempts = marking.students[0].attempts.iter().enumerate();
        let unexplained = attempts.filter_map(|(task, attempt)| {
            let attempt = attempt.as_ref()?;
            let plain = attempt.verdict == Verdict::Wrong && attempt.why == Why::Plain && attempt.value.is_some();
            plain.then_some(task)
        });
        let (shared, lacking): (Vec<usize>, Vec<usize>) = unexplained.partition(|&task| asked(task));
        for one in &marking.look_again {
            assert_eq!(one.of, shared.len(), "{id}: {one:?}");
            assert!(one.tasks.iter().all(|&task| asked(task)), "{id}: {one:?}");
            left_out += lacking.len();
        }
    }
    assert!(left_out > 0, "no experiment has such a task");
}

/// The tail of Poisson's binomial distribution, by hand: three trials at 0.1, 0.2, 0.5.
#[test]
fn chances_add_up() {
    let chances = [0.1, 0.2, 0.5];
    let all = 0.1 * 0.2 * 0.5;
    let two = 0.1 * 0.2 * 0.5 + 0.1 * 0.8 * 0.5 + 0.9 * 0.2 * 0.5;
    let none = 0.9 * 0.8 * 0.5;
    assert_near(tail(&chances, 3), all, 1e-12, "all");
    assert_near(tail(&chances, 2), two + all, 1e-12, "two or more");
    assert_near(tail(&chances, 1), 1.0 - none, 1e-12, "one or more");
    assert_near(tail(&chances, 0), 1.0, 1e-12, "any");
}

/// `tests/reference/poisson_binomial.csv` is made by scipy's `poisson_binom` (1.15.3), in the script beside it.
#[test]
fn tails_agree_with_scipy() {
    let path = format!("{}/tests/reference/poisson_binomial.csv", env!("CARGO_MANIFEST_DIR"));
    let mut reader = csv::Reader::from_path(path).expect("a file of the project");
    let mut compared = 0;
    for record in reader.records() {
        let record = record.expect("a row");
        let chances: Vec<f64> = record[0].split(';').map(|chance| chance.parse().expect("a chance")).collect();
        let expected: f64 = record[2].parse().expect("a tail");
        let found = tail(&chances, record[1].parse().expect("a count"));
        assert!((found - expected).abs() <= 1e-9 * expected + 1e-14, "{record:?}: {found}");
        compared += 1;
    }
    assert!(compared > 40, "{compared} rows");
}

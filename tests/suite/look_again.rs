//! Whom to look at again. In: classes of known honesty. Out: pass or fail; the rates stand in the head of the module's test.

use labquire::{
    class::{Roster, Student},
    experiment::{self, Experiment, catalogue},
    key::SlipKind,
    language::Language,
    marking::{Entry, FilledForm, FilledRow, Typed, TypedUnit, look_again, mark},
    set::{Member, SetPlan},
};
use rand::{RngExt, SeedableRng};
use rand_chacha::ChaCha20Rng as StdRng;

use crate::reference::assert_near;

const CLASS: usize = 30;

fn typed(value: f64) -> Entry {
    // Three significant figures, as on a sheet.
    let text = format!("{value:.2e}");
    let value: f64 = text.parse().expect("a number");
    let half = 0.005 * 10_f64.powf(value.abs().log10().floor());
    Entry::Number(Typed { text, value, other: None, figures: None, half, unit: TypedUnit::None })
}

/// A student's own answers: right ones, and one in four wrong in an ordinary way.
fn honest(experiment: &Experiment, member: &Member<'_>, random: &mut StdRng) -> Vec<Entry> {
    let tasks = experiment.tasks.iter().enumerate();
    tasks
        .map(|(index, task)| {
            if !task.editions.contains(&member.edition) {
                return Entry::Outside;
            }
            let Some(key) = member.key.number(index) else { return Entry::Points(1) };
            if random.random_range(0..4) > 0 {
                let text = key.text.clone();
                let value = text.parse().expect("a number");
                return Entry::Number(Typed {
                    text,
                    value,
                    other: None,
                    figures: None,
                    half: 0.0,
                    unit: TypedUnit::None,
                });
            }
            let listed: Vec<f64> = key
                .slips
                .iter()
                .filter(|slip| matches!(slip.kind, SlipKind::Listed(_)))
                .map(|slip| slip.value)
                .collect();
            match random.random_range(0..6) {
                0 => Entry::Blank,
                1 => typed(key.value * 10_f64.powi(random.random_range(-3..=3))),
                2 if !listed.is_empty() => typed(listed[random.random_range(0..listed.len())]),
                // A row misread, a number copied wrongly.
                3 => typed(key.value * (1.0 + random.random_range(-0.15..0.15))),
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
fn trial(id: &str, classes: u64) -> Trial {
    let (experiment, _) = experiment::load(&catalogue::find(id).expect("built in")).expect("sound");
    let students = (0..CLASS).map(|place| Student {
        id: place.to_string(),
        name: place.to_string(),
        edition: None,
        seat: None,
        group: None,
        lang: None,
        large: false,
    });
    let roster = Roster { name: "9b".into(), students: students.collect() };
    let plan = SetPlan::new(&experiment, &roster, "look again", Language::find("en").expect("English"));
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
        total.listed += look_again(&members, &mark(&experiment, &members, &form(&rows))).len();
        let copying: Vec<usize> = (1..CLASS).step_by(6).collect();
        for &place in &copying {
            let numeric: Vec<usize> = (0..experiment.tasks.len())
                .filter(|&task| {
                    experiment.tasks[task].editions.contains(&members[place].edition)
                        && members[place].key.number(task).is_some()
                })
                .collect();
            let many = random.random_range(4..=numeric.len().max(4)).min(numeric.len());
            let mut left = numeric.clone();
            for _ in 0..many {
                let task = left.swap_remove(random.random_range(0..left.len()));
                let text = members[place - 1].key.number(task).expect("a number").text.clone();
                let value = text.parse().expect("a number");
                rows[place].entries[task] =
                    Entry::Number(Typed { text, value, other: None, figures: None, half: 0.0, unit: TypedUnit::None });
            }
        }
        let listed = look_again(&members, &mark(&experiment, &members, &form(&rows)));
        total.copies += copying.len();
        total.found += copying
            .iter()
            .filter(|&&place| listed.iter().any(|one| one.student == place && one.sheet == place - 1))
            .count();
    }
    total
}

/// On honest classes with ordinary errors at most 1 in 100 students is listed; of those who copied four answers or more at
/// least 95 in 100 are, with the right sheet.
#[test]
fn honest_students_are_left_alone_and_copies_are_seen() {
    for id in ["pumped-loop", "mixing", "house-hot-water", "store-race"] {
        let Trial { honest, listed, copies, found } = trial(id, 20);
        println!("{id}: {listed} of {honest} honest students listed, {found} of {copies} copies seen");
        assert!(listed * 100 <= honest, "{id}: {listed} of {honest} honest students are listed");
        assert!(found * 100 >= copies * 95, "{id}: {found} of {copies} copies are seen");
    }
}

/// The tail of Poisson's binomial distribution, by hand: three trials at 0.1, 0.2, 0.5.
#[test]
fn chances_add_up() {
    let chances = [0.1, 0.2, 0.5];
    let all = 0.1 * 0.2 * 0.5;
    let two = 0.1 * 0.2 * 0.5 + 0.1 * 0.8 * 0.5 + 0.9 * 0.2 * 0.5;
    let none = 0.9 * 0.8 * 0.5;
    use labquire::marking::look_again::tail;
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
        let found = labquire::marking::look_again::tail(&chances, record[1].parse().expect("a count"));
        assert!((found - expected).abs() <= 1e-9 * expected + 1e-14, "{record:?}: {found}");
        compared += 1;
    }
    assert!(compared > 40, "{compared} rows");
}

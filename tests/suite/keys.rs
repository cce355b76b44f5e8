//! Keys: computed from what is printed, so that a student with a calculator lands inside the accepted range.

use labquire::{
    class::Edition,
    compose::Labels,
    experiment::{self, Experiment, catalogue, plan::TaskBody},
    formula::{self, Value, Values},
    key::{Answer, Key},
    variant::{self, Known, Variant},
};

fn experiments() -> Vec<Experiment> {
    catalogue::sources().iter().map(|source| experiment::load(source).expect("a sound definition").0).collect()
}

/// What tells a sheet from others, for sheets that are looked into.
pub(crate) fn labels(edition: Edition) -> Labels<'static> {
    Labels { student: None, class: "9b", code: Some("K7Q2-M9"), version: None, day: None, edition, large: false }
}

fn drawn(experiment: &Experiment, student: u32) -> (Variant, Key) {
    let id = student.to_string();
    let variant = variant::draw(experiment, "keys", &id).expect("drawn");
    let key = Key::build(experiment, &variant, &id).expect("keyed");
    (variant, key)
}

/// A student who works from the printed text alone and rounds every answer to the figures asked for before going on.
struct Rounding<'a> {
    printed: Known,
    own: &'a mut Known,
}

impl Values for Rounding<'_> {
    fn value_of(&self, name: &str) -> Option<&Value> {
        self.own.value_of(name).or_else(|| self.printed.value_of(name))
    }
}

#[test]
fn a_student_who_rounds_every_step_is_inside_every_range() {
    for experiment in experiments() {
        for student in 0..60 {
            let (variant, key) = drawn(&experiment, student);
            let mut own = Known::default();
            for (task, answer) in experiment.tasks.iter().zip(&key.answers) {
                if let (TaskBody::Column(plan), Answer::Column(cells)) = (&task.body, answer) {
                    let printed = cells.iter().map(|cell| cell.text.parse::<f64>().expect("a number"));
                    own.add(&task.id, Value::column(printed.map(|cell| plan.unit.to_si(cell)).collect()));
                    continue;
                }
                let (TaskBody::Number(plan), Answer::Number(number)) = (&task.body, answer) else { continue };
                let values = Rounding { printed: Known::of(&experiment, &variant), own: &mut own };
                let worked = plan.unit.from_si(formula::evaluate(&plan.formula, &values).expect("a value").number());
                let rounded = plan.form.round(worked);
                let (from, to) = (number.accept.0.value, number.accept.1.value);
                assert!(
                    (from..=to).contains(&rounded.value),
                    "{} of {student}: {} outside {from} to {to}",
                    task.id,
                    rounded.text
                );
                own.add(&task.id, Value::scalar(plan.unit.to_si(rounded.value)));
            }
        }
    }
}

/// The printed text is all that counts: a variant rebuilt from text alone has the same key.
#[test]
fn keys_follow_from_the_printed_text() {
    for experiment in experiments() {
        let (mut variant, key) = drawn(&experiment, 7);
        for column in &mut variant.table.columns {
            column.values = column.texts.iter().map(|text| text.parse().expect("a number")).collect();
        }
        for stated in &mut variant.told {
            stated.value = stated.text.parse().expect("a number");
        }
        let again = Key::build(&experiment, &variant, "7").expect("keyed");
        assert_eq!(again.answers, key.answers);
    }
}

#[test]
fn ranges_are_never_narrower_than_one_unit_in_the_last_figure() {
    for experiment in experiments() {
        let (_, key) = drawn(&experiment, 3);
        for (task, answer) in experiment.tasks.iter().zip(&key.answers) {
            let (TaskBody::Number(plan), Answer::Number(number)) = (&task.body, answer) else { continue };
            let place = plan.form.last_place(number.value);
            let (from, to) = (number.accept.0.value, number.accept.1.value);
            assert!(
                from <= number.value - 0.94 * place && to >= number.value + 0.94 * place,
                "{}: {from} to {to}",
                task.id
            );
        }
    }
}

/// A sheet with printed numbers of our choice: 19.4 °C at the start, 40.9 °C after 12 min, 152 g, 4.18 kJ/(kg K).
pub(crate) fn sheet_by_hand(experiment: &Experiment) -> Variant {
    let (mut variant, _) = drawn(experiment, 1);
    let mut set = |id: &str, text: &str| {
        let stated = variant.told.iter_mut().find(|told| told.id == id).expect(id);
        (stated.text, stated.value) = (text.to_owned(), text.parse().expect("a number"));
    };
    for (id, text) in [("m", "152"), ("A", "452"), ("G", "812"), ("U", "7.48"), ("I", "0.214"), ("T_r", "19.4")] {
        set(id, text);
    }
    let column = variant.table.columns.iter_mut().find(|column| column.id == "T").expect("T");
    column.values =
        [19.4, 28.1, 35.1, 40.9, 45.5, 49.2, 52.2, 54.5, 56.4, 57.9, 59.1, 60.1, 60.8, 61.5, 61.9, 62.3].to_vec();
    column.texts = column.values.iter().map(|value| format!("{value:.1}")).collect();
    variant
}

/// One sheet solved by hand from its printed numbers.
#[test]
fn a_hand_worked_sheet() {
    let source = catalogue::find("pumped-loop").expect("in the catalogue");
    let (experiment, _) = experiment::load(&source).expect("a sound definition");
    let key = Key::build(&experiment, &sheet_by_hand(&experiment), "1").expect("keyed");
    // Worked with a pocket calculator.
    for (task, answer) in [
        ("rise", 21.5),
        ("heat", 13.7),
        ("power", 19.0),
        ("light", 36.7),
        ("efficiency", 51.7),
        ("pump", 1.60),
        ("share", 8.44),
    ] {
        let number = key.number(experiment.task_index(task).expect(task)).expect(task);
        let (from, to) = (number.accept.0.value, number.accept.1.value);
        assert!((from..=to).contains(&answer), "{task}: {answer} outside {from} to {to}");
    }
}

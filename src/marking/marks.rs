//! Marks. In: the filled form, the members with their keys. Out: for each task of each student an attempt with its verdict and
//! marks, and totals. A right answer earns all marks, and no answer more.

use super::{
    Entry, FilledForm, FilledRow, Override, Resemblance, Verdict, Why,
    judge::Judge,
    look_again::look_again,
    own::{OwnWorld, typed},
};
use crate::{
    class::Edition,
    experiment::{Experiment, plan::TaskBody},
    set::{Member, Own},
};

/// All marks of a set.
#[derive(Debug, Clone, PartialEq)]
pub struct Marking {
    /// The students of the form, in the set's order.
    pub students: Vec<MarkedStudent>,
    /// Students whose wrong answers are right for another's sheet, the least likely by chance first.
    pub look_again: Vec<Resemblance>,
}

/// The marks of a student.
#[derive(Debug, Clone, PartialEq)]
pub struct MarkedStudent {
    /// The student's place among the members.
    pub student: usize,
    /// The place of the member whose sheet they worked on.
    pub sheet: usize,
    /// An attempt for each task of the experiment; none where the sheet lacks it.
    pub attempts: Vec<Option<Attempt>>,
    /// A total set by hand.
    pub fixed: Option<Override>,
}

/// An answer with its verdict.
#[derive(Debug, Clone, PartialEq)]
pub struct Attempt {
    /// What was typed.
    pub entry: Entry,
    /// The number in the answer's unit, as it was taken.
    pub value: Option<f64>,
    /// What follows from the student's own earlier answers where that is not what the key says, in the answer's unit.
    pub own: Option<f64>,
    /// The verdict.
    pub verdict: Verdict,
    /// What led to it.
    pub why: Why,
    /// Whether the unit is missing or wrong as well.
    pub unit_fault: bool,
    /// Marks earned.
    pub got: u32,
    /// Marks to be had.
    pub of: u32,
}

impl MarkedStudent {
    /// Marks earned; a total set by hand wins.
    pub fn total(&self) -> u32 {
        self.fixed.as_ref().map_or_else(|| self.computed(), |fixed| fixed.marks)
    }

    /// Marks earned by the verdicts.
    pub fn computed(&self) -> u32 {
        self.attempts.iter().flatten().map(|attempt| attempt.got).sum()
    }

    /// Marks to be had.
    pub fn out_of(&self) -> u32 {
        self.attempts.iter().flatten().map(|attempt| attempt.of).sum()
    }
}

/// Marks a form.
pub fn mark(experiment: &Experiment, members: &[Member<'_>], form: &FilledForm) -> Marking {
    let owns: Vec<Own> = members.iter().map(Member::own).collect();
    let student = |row: &FilledRow| student(experiment, members[row.sheet].edition, &owns[row.sheet], row);
    let mut students: Vec<MarkedStudent> = form.rows.iter().map(student).collect();
    students.sort_by_key(|student| student.student);
    let look_again = look_again(experiment, members, &owns, &students);
    Marking { students, look_again }
}

fn student(experiment: &Experiment, edition: Edition, sheet: &Own, row: &FilledRow) -> MarkedStudent {
    let mut world = OwnWorld::new(experiment, &sheet.variant);
    let mut attempts = Vec::with_capacity(experiment.tasks.len());
    for (index, (task, entry)) in experiment.tasks.iter().zip(&row.entries).enumerate() {
        let definition = &experiment.definition.tasks[index];
        let attempt = sheet.asks(experiment, edition, index).then(|| match (&task.body, sheet.key.number(index)) {
            (TaskBody::Number(plan), Some(key)) => {
                let credit = definition.number.as_ref().and_then(|number| number.credit.clone()).unwrap_or_default();
                let credit = credit.or(&experiment.definition.credit.clone().unwrap_or_default());
                let judge = Judge { plan, key, edition, marks: definition.marks, credit };
                judge.number(entry, &world)
            }
            _ => rubric(entry, definition.marks.total()),
        });
        let own = attempt.as_ref().and_then(|attempt| {
            let (value, key) = (attempt.value?, sheet.key.number(index)?);
            let half = typed(&attempt.entry).map_or(0.0, |typed| typed.half);
            Some((key.unit.to_si(value), half * key.unit.scale()))
        });
        world.go_on(&task.id, &task.body, own);
        attempts.push(attempt);
    }
    MarkedStudent { student: row.student, sheet: row.sheet, attempts, fixed: row.fixed.clone() }
}

/// Points of a rubric.
fn rubric(entry: &Entry, of: u32) -> Attempt {
    let (got, verdict) = match entry {
        Entry::Points(points) if *points >= of => (of, Verdict::Right),
        Entry::Points(points) => (*points, Verdict::Wrong),
        _ => (0, Verdict::None),
    };
    let why = if verdict == Verdict::None { Why::Plain } else { Why::Points(got) };
    Attempt { entry: entry.clone(), value: None, own: None, verdict, why, unit_fault: false, got, of }
}

//! Marks for other programs. In: the marking and what it is of. Out: JSON, and a table as csv. It must round nothing.

use serde_json::{Map, Value, json};

use super::{Attempt, Entry, MarkedStudent, Marking, Resemblance, Scores};
use crate::{compose, experiment::Experiment, language::Language, set::Member};

/// What marks are of.
#[derive(Clone, Copy)]
pub struct Marked<'a> {
    /// The experiment.
    pub experiment: &'a Experiment,
    /// The members of the set.
    pub members: &'a [Member<'a>],
    /// The marks.
    pub marking: &'a Marking,
    /// The teacher's language.
    pub language: &'a Language,
    /// Whether names are shown.
    pub names: bool,
}

impl<'a> Marked<'a> {
    /// The attempts of a student with their tasks' places.
    pub fn attempts(self, student: &'a MarkedStudent) -> impl Iterator<Item = (usize, &'a Attempt)> {
        student.attempts.iter().enumerate().filter_map(|(index, attempt)| Some((index, attempt.as_ref()?)))
    }

    /// The name of a student, or the id where names are not shown.
    pub fn name(self, student: &MarkedStudent) -> &'a str {
        let own = self.members[student.student].student;
        if self.names { &own.name } else { &own.id }
    }

    fn why(self, index: usize, attempt: &Attempt) -> String {
        compose::why(attempt, &self.experiment.definition.tasks[index], self.language)
    }

    /// Students, tasks and whom to look at again, as a JSON document.
    pub fn json(self) -> Value {
        let students = self.marking.students.iter().map(|student| self.student(student));
        let scores = self.scores();
        let tasks = self.experiment.tasks.iter().enumerate().map(|(index, task)| {
            let item = scores.item(index);
            let attempts = || self.marking.students.iter().filter_map(move |student| student.attempts[index].as_ref());
            json!({
                "id": task.id,
                "of": self.experiment.definition.tasks[index].marks.total(),
                "students": item.students,
                "facility": item.facility,
                "discrimination": item.discrimination,
                "verdicts": attempts().fold(Map::new(), |mut counts, attempt| {
                    let count = counts.get(attempt.verdict.word()).and_then(Value::as_u64).unwrap_or(0);
                    counts.insert(attempt.verdict.word().to_owned(), json!(count + 1));
                    counts
                }),
            })
        });
        let students: Vec<Value> = students.collect();
        json!({
            "students": students,
            "tasks": tasks.collect::<Vec<_>>(),
            "alpha": scores.alpha(),
            "look_again": self.marking.look_again.iter().map(|one| self.resemblance(one)).collect::<Vec<_>>(),
        })
    }

    fn resemblance(self, one: &Resemblance) -> Value {
        let id = |place: usize| self.members[place].student.id.as_str();
        let tasks: Vec<&str> = one.tasks.iter().map(|&task| self.experiment.tasks[task].id.as_str()).collect();
        json!({
            "id": id(one.student), "sheet": id(one.sheet), "matches": tasks.len(), "of": one.of, "tasks": tasks,
            "probability": one.probability,
        })
    }

    /// The scores by the verdicts, without totals set by hand.
    pub fn scores(self) -> Scores {
        let row = |student: &MarkedStudent| {
            student.attempts.iter().map(|attempt| attempt.as_ref().map(|attempt| f64::from(attempt.got))).collect()
        };
        let most = self.experiment.definition.tasks.iter().map(|task| f64::from(task.marks.total())).collect();
        Scores::new(self.marking.students.iter().map(row).collect(), most)
    }

    fn student(self, student: &MarkedStudent) -> Value {
        let own = self.members[student.student].student;
        let tasks: Map<String, Value> = self
            .attempts(student)
            .map(|(index, attempt)| {
                let value = json!({
                    "got": attempt.got, "of": attempt.of, "verdict": attempt.verdict,
                    "why": self.why(index, attempt), "answer": typed(attempt),
                });
                (self.experiment.tasks[index].id.clone(), value)
            })
            .collect();
        json!({
            "id": own.id,
            "name": self.names.then_some(&own.name),
            "code": self.members[student.sheet].code,
            "total": student.total(),
            "out_of": student.out_of(),
            "override": student.fixed.as_ref().map(|fixed| json!({ "marks": fixed.marks, "reason": fixed.reason })),
            "tasks": tasks,
        })
    }

    /// The marks as csv: a row a student, marks by task, the total, what was set by hand; with a mark of UTF-8 in front.
    pub fn csv(self) -> Vec<u8> {
        let mut writer = csv::Writer::from_writer(vec![0xEF, 0xBB, 0xBF]);
        let tasks = self.experiment.tasks.iter().map(|task| task.id.as_str());
        let head = ["id", "name", "code"].into_iter().chain(tasks).chain(["total", "out_of", "override", "reason"]);
        // A vector takes every byte: writing to it cannot fail.
        let _ = writer.write_record(head);
        for student in &self.marking.students {
            let own = self.members[student.student].student;
            let marks = student.attempts.iter();
            let marks = marks.map(|attempt| attempt.as_ref().map_or("x".to_owned(), |attempt| attempt.got.to_string()));
            let (fixed, reason) = match &student.fixed {
                Some(fixed) => (fixed.marks.to_string(), fixed.reason.clone()),
                None => (String::new(), String::new()),
            };
            let name = if self.names { own.name.clone() } else { String::new() };
            let front = [own.id.clone(), name, self.members[student.sheet].code.clone()];
            let back = [student.total().to_string(), student.out_of().to_string(), fixed, reason];
            let _ = writer.write_record(front.into_iter().chain(marks).chain(back));
        }
        writer.into_inner().unwrap_or_default()
    }
}

/// An answer as it was typed.
pub(super) fn typed(attempt: &Attempt) -> String {
    match &attempt.entry {
        Entry::Number(typed) => typed.text.clone(),
        Entry::Points(points) => points.to_string(),
        Entry::Blank | Entry::Outside => String::new(),
    }
}

//! The page that a student gets back. In: a marked student's facts. Out: own answers beside the expected ones, verdicts, the working
//! of what went wrong, one thing to do next. It must say nothing of other students.

use std::cmp::Reverse;

use super::{Facts, Labels, Page, View, accepted, prose::prose, sheet::tag, task::task, verdict};
use crate::{
    marking::{Attempt, Entry, MarkedStudent},
    sheet::{Feedback, FeedbackRow, Reworked, Rich, Run},
};

/// Tasks whose working is shown: those that lost most.
const WORKINGS: usize = 4;

/// The page, in the language of `facts`, which are those of the sheet that the student worked on.
pub fn feedback(facts: &Facts<'_>, labels: Labels<'_>, student: &MarkedStudent) -> Feedback {
    let language = facts.language;
    let page = Page { edition: labels.edition, large: labels.large, view: View::Key };
    let tasks: Vec<_> = facts
        .experiment
        .tasks_of(labels.edition)
        .enumerate()
        .filter_map(|(place, (index, plan))| Some((place + 1, index, plan, student.attempts[index].as_ref()?)))
        .collect();
    let rows = tasks.iter().map(|(number, index, _, attempt)| FeedbackRow {
        number: number.to_string(),
        own: own(attempt),
        expected: facts.key.number(*index).map_or_else(String::new, |number| {
            format!("{} ({})", facts.write(&number.text, &number.unit), accepted(number, language))
        }),
        verdict: verdict(attempt, &facts.experiment.definition.tasks[*index], language),
        marks: format!("{} / {}", attempt.got, attempt.of),
    });
    let mut lost: Vec<_> = tasks.iter().filter(|(.., attempt)| attempt.got < attempt.of).collect();
    lost.sort_by_key(|(number, .., attempt)| (Reverse(attempt.of - attempt.got), *number));
    let next = lost.first().map_or_else(
        || vec![Run::from(language.word("all-right"))],
        |(number, index, ..)| next(facts, *number, *index),
    );
    lost.truncate(WORKINGS);
    lost.sort_by_key(|(number, ..)| *number);
    let workings = lost.iter().filter_map(|(number, index, plan, _)| {
        let task = task(facts, *index, plan, *number, page);
        Some(Reworked { number: task.number, ask: task.ask, solution: task.solution? })
    });
    let remark = student.fixed.as_ref().map_or_else(String::new, |fixed| {
        let reason = if fixed.reason.is_empty() { String::new() } else { format!(" ({})", fixed.reason) };
        format!("{}{reason}", language.word("why-by-hand"))
    });
    Feedback {
        lang: language.code.clone(),
        region: None,
        large: labels.large,
        title: facts.experiment.definition.title.printed_in(language).into_owned(),
        student: labels.student.map(str::to_owned),
        class: labels.class.to_owned(),
        tag: tag(labels, language),
        edition_word: language.word(labels.edition.word_key()).to_owned(),
        total: format!("{} / {}", student.total(), student.out_of()),
        remark,
        rows: rows.collect(),
        workings: workings.collect(),
        next,
    }
}

/// The answer as it was typed; the verdict says how many points of a rubric there were.
fn own(attempt: &Attempt) -> String {
    match &attempt.entry {
        Entry::Number(typed) => typed.text.clone(),
        Entry::Points(_) | Entry::Blank | Entry::Outside => String::new(),
    }
}

/// The task to look at first, with its help where it has one.
fn next(facts: &Facts<'_>, number: usize, index: usize) -> Rich {
    let definition = &facts.experiment.definition.tasks[index];
    let text = definition.help.as_ref().unwrap_or(&definition.ask);
    let phrase = facts.language.word("next-task").replace("{task}", &number.to_string());
    let (before, behind) = phrase.split_once("{ask}").unwrap_or((&phrase, ""));
    let mut next = vec![Run::from(before)];
    next.extend(prose(facts, text));
    if !behind.is_empty() {
        next.push(Run::from(behind));
    }
    next
}

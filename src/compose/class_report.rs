//! The report of a marked class. In: the marks. Out: totals, tasks and slips as data. Only on the
//! page of whom to look at again it names students.

use indexmap::IndexMap;

use crate::{
    experiment::Experiment,
    language::Language,
    marking::{Marked, Resemblance, Verdict, Why},
    sheet::ClassReport,
};

/// Slips that are listed at most.
const SLIPS: usize = 12;

/// The report, in the teacher's language.
pub fn class_report(marked: Marked<'_>, class: &str) -> ClassReport {
    let language = marked.language;
    let word = |key: &str| language.word(key).to_owned();
    let (scores, students) = (marked.scores(), &marked.marking.students);
    let shares: Vec<f64> =
        students.iter().map(|student| f64::from(student.total()) / f64::from(student.out_of().max(1))).collect();
    let decimal = |value: f64| language.notation.number(&format!("{value:.2}"));
    let percent = |value: f64| format!("{:.0}\u{202F}%", 100.0 * value);
    let mean = shares.iter().sum::<f64>() / shares.len().max(1) as f64;
    let mut counts = vec![(word("students"), students.len().to_string()), (word("mean"), percent(mean))];
    counts.extend(scores.alpha().map(|alpha| (word("alpha"), decimal(alpha))));
    let histogram = scores.histogram();
    let tenths = histogram.iter().enumerate().filter(|(_, count)| **count > 0);
    let tenths: Vec<String> =
        tenths.map(|(tenth, count)| format!("{}–{}\u{202F}%: {count}", 10 * tenth, 10 * tenth + 10)).collect();
    let mut heads = vec![word("task"), word("facility"), word("discrimination")];
    heads.extend(Verdict::ALL.iter().map(|verdict| word(&format!("verdict-{}", verdict.word()))));
    let rows = marked.experiment.tasks.iter().enumerate().map(|(index, task)| {
        let item = scores.item(index);
        let count = |verdict: &Verdict| {
            students
                .iter()
                .filter_map(|student| student.attempts[index].as_ref())
                .filter(|one| one.verdict == *verdict)
                .count()
        };
        let shown = |count: usize| if count == 0 { String::new() } else { count.to_string() };
        let mut row = vec![
            task.id.clone(),
            item.facility.map_or_else(String::new, percent),
            item.discrimination.map_or_else(String::new, decimal),
        ];
        row.extend(Verdict::ALL.iter().map(|verdict| shown(count(verdict))));
        row
    });
    ClassReport {
        lang: language.code.clone(),
        title: marked.experiment.definition.title.printed_in(language).into_owned(),
        class: class.to_owned(),
        counts,
        histogram: histogram.to_vec(),
        histogram_alt: format!("{} {}.", language.heading("totals"), tenths.join("; ")),
        heads,
        rows: rows.collect(),
        look_again: look_again(marked),
        slips: slips(marked, marked.experiment, language),
    }
}

/// The evidence in numbers.
fn look_again(marked: Marked<'_>) -> Vec<[String; 5]> {
    let name = |place: usize| {
        let student = marked.members[place].student;
        if marked.names { student.name.clone() } else { student.id.clone() }
    };
    let tasks = |tasks: &[usize]| {
        let ids: Vec<&str> = tasks.iter().map(|&task| marked.experiment.tasks[task].id.as_str()).collect();
        ids.join(", ")
    };
    let row = |one: &Resemblance| {
        let count = format!("{} / {}", one.tasks.len(), one.of);
        let probability = marked.language.notation.number(&format!("{:.0e}", one.probability));
        [name(one.student), name(one.sheet), count, tasks(&one.tasks), probability]
    };
    marked.marking.look_again.iter().map(row).collect()
}

fn slips(marked: Marked<'_>, experiment: &Experiment, language: &Language) -> Vec<(String, usize)> {
    let mut counts: IndexMap<String, usize> = IndexMap::new();
    for student in &marked.marking.students {
        for (index, attempt) in marked.attempts(student) {
            let task = &experiment.definition.tasks[index];
            let slip = match attempt.why {
                Why::Slip(place) => task.number.as_ref().and_then(|number| number.slips.get(place)),
                _ => None,
            };
            if let Some(slip) = slip {
                *counts.entry(format!("{}: {}", task.id, slip.says.printed_in(language))).or_default() += 1;
            }
        }
    }
    let mut counts: Vec<(String, usize)> = counts.into_iter().collect();
    counts.sort_by_key(|(_, count)| std::cmp::Reverse(*count));
    counts.truncate(SLIPS);
    counts
}

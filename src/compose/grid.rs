//! The marking grid. In: all students' facts. Out: a row a student, a column a task. It must compute nothing.

use super::{Facts, Labels, accepted};
use crate::{
    experiment::Experiment,
    language::Language,
    sheet::{Grid, GridCell, GridColumn, GridRow},
};

/// The grid of a set, in the order of its students; labels carry the name, or nothing where only ids are printed.
pub fn grid(experiment: &Experiment, class: &str, language: &Language, members: &[(Facts<'_>, Labels<'_>)]) -> Grid {
    let definition = &experiment.definition;
    let columns = experiment.tasks.iter().zip(&definition.tasks).enumerate().map(|(index, (plan, task))| GridColumn {
        number: common_number(experiment, index),
        id: plan.id.clone(),
        unit: match &plan.body {
            crate::experiment::plan::TaskBody::Number(number) => number.unit.print(),
            _ => String::new(),
        },
        marks: task.marks.total(),
    });
    let rows = members.iter().map(|(facts, labels)| GridRow {
        name: labels.student.or(labels.code).unwrap_or_default().to_owned(),
        code: labels.code.unwrap_or_default().to_owned(),
        edition: edition(*labels, language),
        cells: experiment
            .tasks
            .iter()
            .enumerate()
            .map(|(index, task)| task.editions.contains(&labels.edition).then(|| cell(facts, index, language)))
            .collect(),
    });
    Grid {
        lang: language.code.clone(),
        title: definition.title.printed_in(language).into_owned(),
        class: class.to_owned(),
        columns: columns.collect(),
        versions: members.iter().any(|(_, labels)| labels.version.is_some()),
        rows: rows.collect(),
    }
}

/// The edition in words, with the version where versions are shared.
fn edition(labels: Labels<'_>, language: &Language) -> String {
    let word = language.word(labels.edition.word_key());
    labels.version.map_or_else(|| word.to_owned(), |version| format!("{word}, {version}"))
}

fn cell(facts: &Facts<'_>, index: usize, language: &Language) -> GridCell {
    match facts.key.number(index) {
        Some(number) => {
            GridCell { value: language.notation.number(&number.text), accept: Some(accepted(number, language)) }
        }
        None => GridCell { value: String::new(), accept: None },
    }
}

/// The number of a task on the sheets, where all editions that have it count alike.
fn common_number(experiment: &Experiment, index: usize) -> String {
    let numbers: Vec<usize> = experiment.tasks[index]
        .editions
        .iter()
        .filter_map(|&edition| experiment.tasks_of(edition).position(|(own, _)| own == index))
        .collect();
    match numbers.split_first() {
        Some((first, rest)) if rest.iter().all(|number| number == first) => (first + 1).to_string(),
        _ => String::new(),
    }
}

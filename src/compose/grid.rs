//! The marking grid. In: all students' facts. Out: a row a student, a column a task. It must compute nothing.

use super::{Facts, Labels, accepted};
use crate::{
    class::Edition,
    experiment::{Experiment, plan::TaskBody},
    language::Language,
    sheet::{Grid, GridCell, GridColumn, GridRow},
};

/// The grid of a set, in the order of its students; labels carry the name, or nothing where only ids are printed.
pub fn grid(experiment: &Experiment, class: &str, language: &Language, members: &[(Facts<'_>, Labels<'_>)]) -> Grid {
    let word = |key: &str| language.word(key).to_owned();
    let versions = members.iter().any(|(_, labels)| labels.version.is_some());
    let behind = if versions { format!("{}, {}", word("edition"), word("version")) } else { word("edition") };
    let rows = members.iter().map(|(facts, labels)| GridRow {
        name: labels.student.or(labels.code).unwrap_or_default().to_owned(),
        code: labels.code.unwrap_or_default().to_owned(),
        edition: edition(*labels, language),
        cells: cells(facts, labels.edition, language),
    });
    let heads = [word("name"), word("code"), behind];
    framed(experiment, class, language, (word("grid"), heads), rows.collect())
}

/// The grid of a set whose versions are shared: a row for each different key, with how many students have it.
pub fn version_grid(
    experiment: &Experiment,
    class: &str,
    language: &Language,
    keys: &[(Facts<'_>, Labels<'_>, usize)],
) -> Grid {
    let word = |key: &str| language.word(key).to_owned();
    let rows = keys.iter().map(|(facts, labels, holders)| {
        let large = if labels.large { format!(", {}", language.word("print-large")) } else { String::new() };
        GridRow {
            name: format!("{} {}", language.word("version"), labels.version.unwrap_or_default()),
            code: holders.to_string(),
            edition: format!("{}{large}", language.word(labels.edition.word_key())),
            cells: cells(facts, labels.edition, language),
        }
    });
    let heads = [word("version"), word("students"), word("edition")];
    framed(experiment, class, language, (word("grid-by-version"), heads), rows.collect())
}

/// Rows with the columns of all tasks.
fn framed(
    experiment: &Experiment,
    class: &str,
    language: &Language,
    (heading, heads): (String, [String; 3]),
    rows: Vec<GridRow>,
) -> Grid {
    let definition = &experiment.definition;
    let columns = experiment.tasks.iter().zip(&definition.tasks).enumerate().map(|(index, (plan, task))| GridColumn {
        number: experiment.common_number(index).map_or_else(String::new, |number| number.to_string()),
        id: plan.id.clone(),
        unit: match &plan.body {
            TaskBody::Number(number) => number.unit.print(),
            _ => String::new(),
        },
        marks: task.marks.total(),
    });
    Grid {
        lang: language.code.clone(),
        heading,
        title: definition.title.printed_in(language).into_owned(),
        class: class.to_owned(),
        heads,
        columns: columns.collect(),
        rows,
    }
}

/// A cell for each task; none where the edition lacks it.
fn cells(facts: &Facts<'_>, edition: Edition, language: &Language) -> Vec<Option<GridCell>> {
    let tasks = facts.experiment.tasks.iter().enumerate();
    tasks.map(|(index, task)| task.editions.contains(&edition).then(|| cell(facts, index, language))).collect()
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
        None if facts.key.gap(index).is_some() => GridCell { value: "–".to_owned(), accept: None },
        None => GridCell { value: String::new(), accept: None },
    }
}

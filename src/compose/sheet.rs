//! A worksheet or a key. In: one student's facts and labels. Out: the sheet as data. It must decide no page break.

use std::collections::BTreeMap;

use super::{Facts, Page, View, comparison::comparison, prose::prose, table::table, task::task};
use crate::{
    class::Edition,
    experiment::{Text, plan::TaskBody},
    language::{Day, Language},
    quantity::Unit,
    sheet::{Block, Caution, Datum, Sheet, Step},
};

/// What is written on a sheet to tell it from others.
#[derive(Debug, Clone, Copy)]
pub struct Labels<'a> {
    /// The student's name, unless names are left out.
    pub student: Option<&'a str>,
    /// The class.
    pub class: &'a str,
    /// The code of the sheet; a key that several share has none.
    pub code: Option<&'a str>,
    /// The version, where versions are shared.
    pub version: Option<usize>,
    /// The day of the lesson, where it is to be printed.
    pub day: Option<Day>,
    /// The edition.
    pub edition: Edition,
    /// Large print.
    pub large: bool,
}

/// A student's sheet, or the key to it.
pub fn sheet(facts: &Facts<'_>, labels: Labels<'_>, view: View) -> Sheet {
    let page = Page { edition: labels.edition, large: labels.large, view };
    let definition = &facts.experiment.definition;
    let language = facts.language;
    let code = language.code.as_str();
    let mut blocks = Vec::new();
    if view == View::Worksheet {
        blocks.push(Block::Aim {
            text: definition.aim.printed_in(language).into_owned(),
            duration: format!("{} {}", definition.minutes, language.word("minutes")),
        });
        blocks.push(Block::Picture {
            art: definition.picture.art.clone(),
            alt: definition.picture.alt.printed_in(language).into_owned(),
            labels: picture_labels(facts),
        });
        blocks.push(Block::Kit {
            items: definition.kit.iter().map(|item| item.printed_in(language).into_owned()).collect(),
        });
        blocks.push(Block::Cautions { items: cautions(facts) });
        blocks.push(Block::Steps { steps: steps(facts) });
    }
    blocks.push(Block::Data { rows: data(facts) });
    let has_column =
        facts.experiment.tasks_of(labels.edition).any(|(_, task)| matches!(task.body, TaskBody::Column(_)));
    let blank = facts.variant.table.rows() == 0;
    if view == View::Worksheet || (has_column && !blank) {
        blocks.push(Block::Table(table(facts, page)));
    }
    let tasks = facts.experiment.tasks_of(labels.edition).enumerate();
    blocks.extend(tasks.map(|(place, (index, plan))| Block::Task(Box::new(task(facts, index, plan, place + 1, page)))));
    if view == View::Key {
        blocks.extend(comparison(facts));
    }
    Sheet {
        lang: code.to_owned(),
        region: None,
        large: labels.large,
        title: definition.title.printed_in(language).into_owned(),
        student: labels.student.map(str::to_owned),
        class: labels.class.to_owned(),
        date: labels.day.map(|day| day.written(language)),
        tag: tag(labels, language),
        code: labels.code.map(str::to_owned),
        version: labels.version.map(|version| version.to_string()),
        edition_word: language.word(labels.edition.word_key()).to_owned(),
        blocks,
    }
}

/// What tells a sheet from others on each of its pages: the code, else the version.
pub(super) fn tag(labels: Labels<'_>, language: &Language) -> String {
    let version = || labels.version.map(|version| format!("{}\u{A0}{version}", language.word("version")));
    labels.code.map(str::to_owned).or_else(version).unwrap_or_default()
}

/// The words at the drawing's leader lines.
pub(super) fn picture_labels(facts: &Facts<'_>) -> BTreeMap<String, String> {
    let labels = &facts.experiment.definition.picture.labels;
    labels.iter().map(|(part, text)| (part.clone(), text.printed_in(facts.language).into_owned())).collect()
}

/// The hazards of the experiment with their cautions.
pub(super) fn cautions(facts: &Facts<'_>) -> Vec<Caution> {
    let hazards = facts.experiment.definition.hazards.iter();
    hazards
        .filter_map(|key| facts.language.hazard(key))
        .map(|hazard| Caution { word: hazard.word.clone(), text: hazard.text.clone() })
        .collect()
}

/// The steps of setting up, each with the caution that belongs to it.
pub(super) fn steps(facts: &Facts<'_>) -> Vec<Step> {
    let steps = facts.experiment.definition.setting_up.iter();
    steps
        .map(|step| Step {
            text: prose(facts, &step.text),
            caution: step
                .caution
                .as_deref()
                .and_then(|key| facts.language.hazard(key))
                .map(|hazard| hazard.word.clone()),
        })
        .collect()
}

/// What the student is told; in a real run also what is still to be noted.
fn data(facts: &Facts<'_>) -> Vec<Datum> {
    let experiment = facts.experiment;
    let definition = &experiment.definition;
    let datum = |id: &str, name: &Text, unit: &Unit| {
        let stated = facts.variant.told.iter().find(|told| told.id == id);
        Some(Datum {
            name: name.printed_in(facts.language).into_owned(),
            symbol: facts.symbol_of(id)?.math(),
            value: stated.map_or_else(|| unit.print(), |stated| facts.write(&stated.text, &stated.unit)),
            blank: stated.is_none(),
        })
    };
    let drawn = experiment.drawn.iter().filter(|drawn| drawn.told);
    let drawn = drawn.filter_map(|drawn| datum(&drawn.id, &definition.drawn.get(&drawn.id)?.name, &drawn.unit));
    let given = experiment.given.iter();
    let given = given.filter_map(|given| datum(&given.id, &definition.given.get(&given.id)?.name, &given.value.unit));
    let once = experiment.once.iter();
    let once = once.filter_map(|once| datum(&once.id, &definition.readings.once.get(&once.id)?.name, &once.unit));
    drawn.chain(given).chain(once).collect()
}

//! The teacher's notes. In: the experiment and all students' facts. Out: sections. It must word nothing of its own.

use super::{Facts, prose::prose, sheet};
use crate::{
    experiment::{Text, plan::TaskBody},
    sheet::{Passage, Run, Section, Teacher},
};

/// What a set adds to the notes.
struct SetFacts<'a> {
    /// The class.
    class: &'a str,
    /// The seed.
    seed: &'a str,
    /// All students' facts, in any language.
    members: &'a [Facts<'a>],
}

/// The notes, in the language of `facts`.
pub fn teacher(facts: &Facts<'_>, class: &str, seed: &str, members: &[Facts<'_>]) -> Teacher {
    let set = SetFacts { class, seed, members };
    let definition = &facts.experiment.definition;
    let language = facts.language;
    let code = language.code.as_str();
    let words = |text: &Text| prose(facts, text);
    let list = |texts: &[Text]| Passage::List { items: texts.iter().map(words).collect() };
    let section = |key: &str, passages: Vec<Passage>| Section { heading: language.word(key).to_owned(), passages };
    let time_plan = definition.teacher.time_plan.iter().map(|step| {
        let mut item = vec![Run::Text(format!("{} {}: ", step.minutes, language.word("minutes")))];
        item.extend(words(&step.what));
        item
    });
    let steps = sheet::steps(facts).into_iter().map(|step| {
        let mut item = step.text;
        item.extend(step.caution.map(|caution| Run::Text(format!(" ({caution})"))));
        item
    });
    let local = Passage::Text { text: vec![Run::from(language.word("local-rules"))] };
    let note = format!("{} {}: {}.", language.word("values-note"), language.word("seed"), set.seed);
    Teacher {
        lang: code.to_owned(),
        title: definition.title.printed_in(language).into_owned(),
        class: set.class.to_owned(),
        sections: vec![
            section("aim", vec![Passage::Text { text: words(&definition.aim) }]),
            section("kit", vec![list(&definition.kit)]),
            section("before", vec![list(&definition.teacher.before)]),
            section("cautions", vec![Passage::Cautions { items: sheet::cautions(facts) }, local]),
            section(
                "set-up",
                vec![
                    Passage::Picture {
                        art: definition.picture.art.clone(),
                        alt: definition.picture.alt.printed_in(language).into_owned(),
                        labels: sheet::picture_labels(facts),
                    },
                    Passage::List { items: steps.collect() },
                ],
            ),
            section(
                "background",
                definition.teacher.background.iter().map(|text| Passage::Text { text: words(text) }).collect(),
            ),
            section("time-plan", vec![Passage::List { items: time_plan.collect() }]),
            section("values", vec![values(facts, &set), Passage::Text { text: vec![Run::Text(note)] }]),
            section("mistakes", vec![list(&definition.teacher.mistakes)]),
            section("questions", vec![list(&definition.teacher.questions)]),
        ],
    }
}

/// The smallest and largest answer to each numeric task in the set.
fn values(facts: &Facts<'_>, set: &SetFacts<'_>) -> Passage {
    let language = facts.language;
    let rows = facts.experiment.tasks.iter().enumerate().filter_map(|(index, task)| {
        let TaskBody::Number(plan) = &task.body else { return None };
        let mut numbers: Vec<_> = set.members.iter().filter_map(|member| member.key.number(index)).collect();
        numbers.sort_by(|a, b| a.value.total_cmp(&b.value));
        let (low, high) = (numbers.first()?, numbers.last()?);
        let text = |plain: &str| language.notation.number(plain);
        Some(vec![plan.symbol.plain(), text(&low.text), text(&high.text), plan.unit.print()])
    });
    let head = |key: &str| vec![Run::from(language.word(key))];
    Passage::Table { heads: vec![head("quantity"), head("least"), head("most"), head("unit")], rows: rows.collect() }
}

//! The teacher's notes. In: the experiment, one student's facts, how far all answers reach. Out: sections. It must word nothing of its own.

use super::{Facts, Span, expected::expected, prose::prose, sheet};
use crate::{
    experiment::{Text, plan::TaskBody},
    sheet::{Passage, Run, Section, Teacher},
    variant::Known,
};

/// What a set adds to the notes.
struct SetFacts<'a> {
    /// The class.
    class: &'a str,
    /// The seed.
    seed: &'a str,
    /// By task: its answers in the set.
    answers: &'a [Span],
}

/// The notes, in the language of `facts`; `runs` are exact values of runs drawn like the students'.
pub fn teacher(facts: &Facts<'_>, class: &str, seed: &str, answers: &[Span], runs: &[Known]) -> Teacher {
    let set = SetFacts { class, seed, answers };
    let definition = &facts.experiment.definition;
    let language = facts.language;
    let code = language.code.as_str();
    let words = |text: &Text| prose(facts, text);
    let list = |texts: &[Text]| Passage::List { items: texts.iter().map(words).collect() };
    let section = |key: &str, passages| Section { heading: language.word(key).to_owned(), passages, beside: false };
    let time_plan = definition.teacher.time_plan.iter().map(|step| {
        let mut item = vec![Run::Text(format!("{} {} ", step.minutes, language.heading("minutes")))];
        item.extend(words(&step.what));
        item
    });
    let steps = sheet::steps(facts).into_iter().map(|step| {
        let mut item = step.text;
        item.extend(step.caution.map(|caution| Run::Text(format!(" ({caution})"))));
        item
    });
    let curve = expected(facts, runs).map(|graph| {
        let note = vec![Run::from(language.word("curve-note"))];
        section("curve", vec![Passage::Graph { graph: Box::new(graph) }, Passage::Text { text: note }])
    });
    let local = Passage::Text { text: vec![Run::from(language.word("local-rules"))] };
    let note = format!("{} {} {}.", language.word("values-note"), language.heading("seed"), set.seed);
    let picture = Passage::Picture {
        art: definition.picture.art.clone(),
        alt: definition.picture.alt.printed_in(language).into_owned(),
        labels: sheet::picture_labels(facts),
    };
    let background = definition.teacher.background.iter().map(|text| Passage::Text { text: words(text) });
    let sections = [
        Some(section("aim", vec![Passage::Text { text: words(&definition.aim) }])),
        Some(Section { beside: true, ..section("kit", vec![list(&definition.kit)]) }),
        Some(section("before", vec![list(&definition.teacher.before)])),
        Some(section("cautions", vec![Passage::Cautions { items: sheet::cautions(facts) }, local])),
        Some(section("set-up", vec![picture, Passage::List { items: steps.collect() }])),
        Some(section("background", background.collect())),
        curve,
        Some(section("values", vec![values(facts, &set), Passage::Text { text: vec![Run::Text(note)] }])),
        Some(Section { beside: true, ..section("time-plan", vec![Passage::List { items: time_plan.collect() }]) }),
        Some(section("mistakes", vec![list(&definition.teacher.mistakes)])),
        Some(section("questions", vec![list(&definition.teacher.questions)])),
    ];
    Teacher {
        lang: code.to_owned(),
        head: language.word("teacher").to_owned(),
        title: definition.title.printed_in(language).into_owned(),
        class: set.class.to_owned(),
        sections: sections.into_iter().flatten().collect(),
    }
}

/// The smallest and largest answer to each numeric task in the set.
fn values(facts: &Facts<'_>, set: &SetFacts<'_>) -> Passage {
    let language = facts.language;
    let rows = facts.experiment.tasks.iter().enumerate().filter_map(|(index, task)| {
        let TaskBody::Number(plan) = &task.body else { return None };
        let [low, high] = set.answers.get(index)?.ends()?;
        let text = |plain: &str| language.notation.number(plain);
        Some(vec![plan.symbol.plain(), text(low), text(high), plan.unit.print()])
    });
    let head = |key: &str| vec![Run::from(language.word(key))];
    Passage::Table { heads: vec![head("quantity"), head("least"), head("most"), head("unit")], rows: rows.collect() }
}

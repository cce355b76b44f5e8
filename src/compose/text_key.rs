//! A key as plain text, for a small screen. In: one student's facts and labels. Out: a line a task. It must leave nothing out
//! that a marker compares with; working stands in the printed key.

use super::{Facts, Labels, accepted, gap::gap, prose::prose, sheet::tag};
use crate::{
    experiment::plan::{TaskBody, TaskPlan},
    key::Answer,
    sheet::{Rich, Run},
};

/// The key to a student's sheet: a heading, then number, result, accepted range and marks of each task.
pub fn text_key(facts: &Facts<'_>, labels: Labels<'_>) -> String {
    let language = facts.language;
    let heads = [labels.student.map(str::to_owned), Some(tag(labels, language))];
    let mut text: Vec<String> = heads.into_iter().flatten().collect();
    text.push(language.word(labels.edition.word_key()).to_owned());
    let mut text = text.join(" · ");
    for (place, (index, task)) in facts.experiment.tasks_of(labels.edition).enumerate() {
        let marks = facts.experiment.definition.tasks[index].marks.total();
        match facts.key.gap(index) {
            Some(open) => text.push_str(&format!("\n{:>2}  {}", place + 1, gap(facts, open, labels.edition))),
            None => text.push_str(&format!("\n{:>2}  {}  [{marks}]", place + 1, answer(facts, index, task))),
        }
    }
    text.push('\n');
    text
}

fn answer(facts: &Facts<'_>, index: usize, task: &TaskPlan) -> String {
    let definition = &facts.experiment.definition.tasks[index];
    match (&facts.key.answers[index], &task.body) {
        (Answer::Number(number), TaskBody::Number(plan)) => {
            let result = facts.write(&number.text, &number.unit);
            format!("{} = {result}  ({})", plan.symbol.plain(), accepted(number, facts.language))
        }
        (Answer::Column(cells), TaskBody::Column(plan)) => {
            let cells: Vec<String> = cells.iter().map(|cell| facts.language.notation.number(&cell.text)).collect();
            let unit = plan.unit.print();
            let over = if unit.is_empty() { unit } else { format!(" / {unit}") };
            format!("{}{over}: {}", plan.symbol.plain(), cells.join("; "))
        }
        _ => match (&definition.text, &definition.graph) {
            (Some(text), _) => plain(&prose(facts, &text.model)),
            (None, Some(graph)) => {
                let ticks: Vec<_> = graph.ticks.iter().map(|tick| tick.printed_in(facts.language)).collect();
                ticks.join("; ")
            }
            (None, None) => String::new(),
        },
    }
}

/// Running text with its mathematics as it is spoken.
fn plain(text: &Rich) -> String {
    let piece = |run: &Run| match run {
        Run::Text(text) => text.clone(),
        Run::Math(math) => math.alt.clone(),
    };
    text.iter().map(piece).collect()
}

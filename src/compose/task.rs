//! A task on a page. In: its plan and answer. Out: the task as data, with its solution in keys.
//! It must word nothing: words come from the definition and the language.

use std::borrow::Cow;

use super::{Facts, Page, View, gap::gap, graph::graph, prose::prose, range::accepted};
use crate::{
    class::Edition,
    experiment::{
        Text,
        definition::{self, Answered, Marks, NumberTask},
        plan::{NumberPlan, TaskBody, TaskPlan},
    },
    formula::{Math, Node, NodeKind, working},
    key::{Gap, Number, SlipKind},
    language::Language,
    sheet::{AnswerSpace, MarkPoint, Rich, Run, Solution, Task},
};

/// Room for working, mm for each method mark, and the least.
const ROOM_MM: u32 = 12;

/// The task at a place of the file, numbered as on the sheet.
pub(super) fn task(facts: &Facts<'_>, index: usize, plan: &TaskPlan, number: usize, page: Page) -> Task {
    let definition = &facts.experiment.definition.tasks[index];
    // Before anything is read, a sheet asks everything.
    let open = facts.key.gap(index).filter(|gap| **gap != Gap::Blank);
    let why = open.map(|open| format!("{} {}", gap(facts, open, page.edition), facts.language.word("gap-total")));
    Task {
        number: number.to_string(),
        id: plan.id.clone(),
        ask: prose(facts, &definition.ask),
        hint: if page.edition == Edition::Support && page.view == View::Worksheet && why.is_none() {
            hint(facts, plan, definition)
        } else {
            None
        },
        marks: if why.is_some() { 0 } else { definition.marks.total() },
        space: match &why {
            Some(why) => AnswerSpace::Gap { why: why.clone() },
            None => space(facts, plan, definition, page),
        },
        solution: (page.view == View::Key).then(|| match why {
            Some(gap) => Solution { gap, ..Solution::default() },
            None => solution(facts, index, plan, definition),
        }),
    }
}

/// The support edition gives the relation and a help.
fn hint(facts: &Facts<'_>, plan: &TaskPlan, definition: &definition::Task) -> Option<Rich> {
    let mut hint: Rich = Vec::new();
    if let (TaskBody::Number(number), Some(task)) = (&plan.body, &definition.number)
        && task.how == Answered::Calculate
    {
        hint.push(large(relation(facts, number)).into());
    }
    if let Some(help) = &definition.help {
        if !hint.is_empty() {
            hint.push(Run::from(". "));
        }
        hint.extend(prose(facts, help));
    }
    (!hint.is_empty()).then_some(hint)
}

fn space(facts: &Facts<'_>, plan: &TaskPlan, definition: &definition::Task, page: Page) -> AnswerSpace {
    match (&plan.body, &definition.graph, &definition.text) {
        (TaskBody::Number(number), ..) => AnswerSpace::NumberLine {
            symbol: number.symbol.math(),
            unit: if page.edition == Edition::Extension { String::new() } else { number.unit.print() },
            room_mm: ROOM_MM * definition.marks.method.max(1),
        },
        // There is nothing yet that a key could draw.
        (TaskBody::Graph(_), ..) if page.view == View::Key && facts.variant.table.rows() == 0 => AnswerSpace::None,
        (TaskBody::Graph(plan), Some(task), _) => AnswerSpace::Graph {
            graph: Box::new(graph(facts, plan, task, page)),
            ticks: task.ticks.iter().map(|tick| tick.printed_in(facts.language).into_owned()).collect(),
        },
        (TaskBody::Text, _, Some(text)) => AnswerSpace::Lines { count: text.lines },
        _ => AnswerSpace::None,
    }
}

fn solution(facts: &Facts<'_>, index: usize, plan: &TaskPlan, definition: &definition::Task) -> Solution {
    let mut solution = Solution { points: points(facts, definition.marks), ..Solution::default() };
    match (&plan.body, facts.key.number(index)) {
        (TaskBody::Number(plan), Some(number)) => {
            solution.lines = lines(facts, plan, step(definition, facts.language).as_deref());
            solution.result = facts.write(&number.text, &number.unit);
            let unit = number.unit.print();
            let space = if unit.is_empty() { "" } else { "\u{202F}" };
            solution.accept = Some(format!("{}{space}{unit}", accepted(number, facts.language)));
            if let Some(task) = &definition.number {
                solution.notes.extend(slips(facts, number, task));
            }
        }
        // Before anything is read, the way alone.
        (TaskBody::Number(plan), None) => solution.lines = vec![large(relation(facts, plan))],
        (TaskBody::Column(plan), _) => solution.lines = vec![large(relation(facts, plan))],
        _ => {}
    }
    if let Some(note) = definition.number.as_ref().and_then(|number| number.note.as_ref()) {
        solution.notes.insert(0, prose(facts, note));
    }
    if let Some(text) = &definition.text {
        solution.model = Some(prose(facts, &text.model));
        solution.points = ticks(&text.ticks, facts.language);
    }
    if let Some(graph) = &definition.graph {
        solution.points = ticks(&graph.ticks, facts.language);
    }
    solution
}

/// What the definition's slips give, in one line, so that a marker knows a wrong number when it comes.
fn slips(facts: &Facts<'_>, number: &Number, task: &NumberTask) -> Option<Rich> {
    let listed = number.slips.iter().filter_map(|slip| {
        let SlipKind::Listed(index) = slip.kind else { return None };
        let says = task.slips.get(index)?.says.printed_in(facts.language);
        Some(format!("{} ({says})", facts.write(&slip.text, &number.unit)))
    });
    let listed: Vec<String> = listed.collect();
    (!listed.is_empty())
        .then(|| vec![Run::Text(format!("{} {}", facts.language.heading("likely-slips"), listed.join("; ")))])
}

fn ticks(texts: &[Text], language: &Language) -> Vec<MarkPoint> {
    texts.iter().map(|text| MarkPoint { text: text.printed_in(language).into_owned(), marks: 1 }).collect()
}

fn points(facts: &Facts<'_>, marks: Marks) -> Vec<MarkPoint> {
    [("method", marks.method), ("accuracy", marks.accuracy), ("unit", marks.unit)]
        .into_iter()
        .filter(|(_, marks)| *marks > 0)
        .map(|(word, marks)| MarkPoint { text: facts.language.word(word).to_owned(), marks })
        .collect()
}

/// `Q = m · c · ΔT`.
fn relation(facts: &Facts<'_>, plan: &NumberPlan) -> Math {
    equation(facts, &plan.symbol.math(), &working::symbols(&plan.formula, facts))
}

/// The author's words for the step.
fn step<'a>(definition: &'a definition::Task, language: &Language) -> Option<Cow<'a, str>> {
    Some(definition.number.as_ref()?.step.as_ref()?.printed_in(language))
}

/// The working: relation, then substitution where it shows something new, the author's words before the first line; the
/// result stands below them in the key.
fn lines(facts: &Facts<'_>, plan: &NumberPlan, step: Option<&str>) -> Vec<Math> {
    let symbol = plan.symbol.math();
    let relation = working::symbols(&plan.formula, facts);
    let substitution = working::numbers(&plan.formula, facts);
    let mut lines = Vec::new();
    if !names_itself(&plan.formula, &symbol, &relation) {
        lines.push(large(equation(facts, &symbol, &relation)));
    }
    if substitution != relation {
        lines.push(large(equation(facts, &symbol, &substitution)));
    }
    match (step, lines.first_mut()) {
        (Some(step), Some(first)) => {
            let words = Math::quoted(&format!("{step}{}", facts.language.word("colon")));
            *first = Math::new(format!("{} quad {}", words.typst, first.typst), format!("{} {}", words.alt, first.alt));
        }
        (Some(step), None) => lines.push(Math::quoted(step)),
        (None, _) => {}
    }
    lines
}

/// Fractions in full size, as in a line of their own.
fn large(line: Math) -> Math {
    Math { typst: format!("display({})", line.typst), ..line }
}

/// Whether the relation only repeats the answer's own symbol, as `T_lim = T_lim` would.
fn names_itself(node: &Node, symbol: &Math, relation: &Math) -> bool {
    matches!(node.kind, NodeKind::Call(..)) && relation.typst == symbol.typst
}

fn equation(facts: &Facts<'_>, left: &Math, right: &Math) -> Math {
    Math::new(
        format!("{} = {}", left.typst, right.typst),
        format!("{} {} {}", left.alt, facts.language.speech.equals, right.alt),
    )
}

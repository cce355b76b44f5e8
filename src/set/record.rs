//! The record of a set, `set.json`. In: a set's plan and members. Out: JSON from which everything can be printed again.
//! Fields may be added, never renamed: other programs read them.

use std::io::{self, Write};

use serde_json::{Map, Value, json};

use super::{Draft, Member, Own, SetPlan, recorded::FORMAT};
use crate::{
    class::Edition,
    compose,
    experiment::plan::TaskBody,
    key::{Answer, Number},
    quantity::Unit,
    readings::Table,
    variant::Stated,
};

/// The program's name and version, as recorded and printed.
pub const PROGRAM: &str = concat!("labquire ", env!("CARGO_PKG_VERSION"));

/// Writes the record of a set as JSON text; `pages` are those of each member's sheet. Students are written one by one: thousands
/// of them would take more memory than all that was printed.
///
/// # Errors
/// Those of the writer.
pub fn record(plan: &SetPlan<'_>, draft: &Draft<'_>, pages: &[usize], out: &mut dyn Write) -> io::Result<()> {
    const NOBODY: &str = "\n  \"students\": []";
    let whole = format!("{:#}\n", head(plan, draft));
    let (before, behind) = match whole.split_once(NOBODY) {
        Some(around) if !draft.members.is_empty() => around,
        _ => return out.write_all(whole.as_bytes()),
    };
    write!(out, "{before}\n  \"students\": [")?;
    for (place, (member, &pages)) in draft.members.iter().zip(pages).enumerate() {
        let text = format!("{:#}", student(plan, member, pages)).replace('\n', "\n    ");
        write!(out, "{}\n    {text}", if place == 0 { "" } else { "," })?;
    }
    write!(out, "\n  ]{behind}")
}

/// The record without its students.
fn head(plan: &SetPlan<'_>, draft: &Draft<'_>) -> Value {
    let crowds = draft
        .crowds
        .iter()
        .map(|crowd| json!({ "edition": crowd.edition.word(), "sheets": crowd.sheets, "apart": crowd.apart }));
    json!({
        "format": FORMAT,
        "program": PROGRAM,
        "experiment": plan.experiment.definition.id,
        "definition": { "file": plan.experiment.source.name, "text": plan.experiment.source.text },
        "seed": plan.seed,
        "class": plan.roster.name,
        "versions": plan.versions,
        "source": plan.readings.word(),
        "bench": plan.bench,
        "part": plan.part.map(|part| json!({ "index": part.index, "of": part.of })),
        "names": plan.names,
        "date": plan.day.map(|day| day.to_string()),
        "fonts": plan.fonts.families(),
        "copy_limit": plan.limit.share(),
        "crowded": crowds.collect::<Vec<_>>(),
        "tasks": tasks(plan),
        "students": [],
    })
}

fn tasks(plan: &SetPlan<'_>) -> Vec<Value> {
    let definition = &plan.experiment.definition;
    let tasks = plan.experiment.tasks.iter().zip(&definition.tasks);
    tasks
        .map(|(task, text)| {
            let (kind, unit) = match &task.body {
                TaskBody::Number(plan) => ("number", Some(plan.unit.print())),
                TaskBody::Column(plan) => ("column", Some(plan.unit.print())),
                TaskBody::Graph(_) => ("graph", None),
                TaskBody::Text => ("text", None),
            };
            let editions: Vec<&str> = task.editions.iter().map(|&edition| Edition::word(edition)).collect();
            json!({ "id": task.id, "kind": kind, "marks": text.marks.total(), "unit": unit, "editions": editions })
        })
        .collect()
}

/// A printed quantity: its value in its unit, and its text as printed in English.
fn stated(stated: &Stated) -> Value {
    json!({ "value": stated.value, "unit": stated.unit.print(), "text": with_unit(&stated.text, &stated.unit) })
}

fn with_unit(text: &str, unit: &Unit) -> String {
    let unit = unit.print();
    if unit.is_empty() { text.to_owned() } else { format!("{text} {unit}") }
}

fn student(plan: &SetPlan<'_>, member: &Member<'_>, pages: usize) -> Value {
    let own = member.own();
    let variant = &own.variant;
    let group = |quantities: &[Stated]| -> Map<String, Value> {
        quantities.iter().map(|one| (one.id.clone(), stated(one))).collect()
    };
    let mut value = json!({
        "id": member.student.id,
        "name": plan.names.then_some(&member.student.name),
        "edition": member.edition.word(),
        "lang": member.language.code,
        "seat": member.student.seat.map(|seat| seat.to_string()),
        "version": member.version,
        "code": member.code,
        "print": if member.student.large { "large" } else { "normal" },
        "parameters": group(&variant.drawn),
        "given": group(&variant.told),
        "readings": readings(plan, &variant.table),
        "answers": answers(plan, member, &own),
        "pages": pages,
        "draw": variant.attempt,
        "redrawn": member.redrawn,
        "apart": member.apart,
        "rejected_draws": variant.attempt.saturating_sub(member.redrawn),
    });
    if let Some(group) = &member.student.group {
        value["group"] = json!(group);
    }
    value
}

fn readings(plan: &SetPlan<'_>, table: &Table) -> Value {
    let experiment = plan.experiment;
    let schedule = &experiment.schedule;
    let first = (&schedule.id, &schedule.symbol, &schedule.unit);
    let rest = experiment.columns.iter().map(|column| (&column.id, &column.symbol, &column.unit));
    let columns: Vec<Value> = std::iter::once(first)
        .chain(rest)
        .map(|(id, symbol, unit)| {
            let unit = unit.print();
            let label = if unit.is_empty() { symbol.plain() } else { format!("{} / {unit}", symbol.plain()) };
            json!({ "id": id, "label": label, "unit": unit })
        })
        .collect();
    let rows: Vec<Vec<&str>> = (0..table.rows()).map(|row| table.row(row).collect()).collect();
    json!({ "columns": columns, "rows": rows })
}

fn answers(plan: &SetPlan<'_>, member: &Member<'_>, own: &Own) -> Map<String, Value> {
    let definition = &plan.experiment.definition;
    let tasks = plan.experiment.tasks_of(member.edition);
    tasks
        .map(|(index, task)| {
            let text = &definition.tasks[index];
            let marks = text.marks.total();
            let language = &member.language.code;
            let answer = match (&own.key.answers[index], &task.body) {
                (Answer::Number(number), _) => number_answer(number, marks),
                (Answer::Open(open), _) => {
                    let facts = plan.facts(own, plan.language);
                    json!({ "open": compose::gap(&facts, open, member.edition), "marks": 0 })
                }
                (Answer::Column(cells), TaskBody::Column(plan)) => {
                    let texts: Vec<&str> = cells.iter().map(|cell| cell.text.as_str()).collect();
                    let values: Vec<f64> = cells.iter().map(|cell| cell.value).collect();
                    json!({ "model": texts.join("; "), "unit": plan.unit.print(), "values": values, "texts": texts, "marks": marks })
                }
                _ => {
                    let ticks = text.graph.as_ref().map(|graph| &graph.ticks);
                    let ticks = ticks.or(text.text.as_ref().map(|text| &text.ticks));
                    let ticks: Vec<&str> = ticks.into_iter().flatten().map(|tick| tick.in_language(language)).collect();
                    let model = text.text.as_ref().map(|text| text.model.in_language(language).to_owned());
                    json!({ "model": model.unwrap_or_else(|| ticks.join("; ")), "ticks": ticks, "marks": marks })
                }
            };
            (task.id.clone(), answer)
        })
        .collect()
}

fn number_answer(number: &Number, marks: u32) -> Value {
    json!({
        "value": number.value,
        "unit": number.unit.print(),
        "text": with_unit(&number.text, &number.unit),
        "accept": [number.accept.0.value, number.accept.1.value],
        "marks": marks,
    })
}

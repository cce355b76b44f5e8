//! `show`: one experiment. In: its name. Out: kit, hazards, what is drawn, tasks, marks and where accepted ranges come
//! from, as text or JSON.

use serde_json::{Value, json};

use super::{Console, Stop, args, explain::Sample, load};
use crate::{
    class::Edition,
    experiment::{Experiment, plan::TaskBody},
    language::Language,
};

pub(super) fn run(args: &args::Show, language: &'static Language, console: &mut Console<'_>) -> Result<(), Stop> {
    let experiment = load::experiment(&args.experiment, console)?;
    let sample = Sample::draw(&experiment, language);
    let value = describe(&experiment, sample.as_ref(), language);
    if args.json {
        console.print(&format!("{value:#}\n"));
    } else {
        console.print(&text(&experiment, sample.as_ref(), &value, language));
    }
    Ok(())
}

fn describe(experiment: &Experiment, sample: Option<&Sample<'_>>, language: &Language) -> Value {
    let definition = &experiment.definition;
    let code = language.code.as_str();
    let drawn: Vec<Value> = experiment
        .drawn
        .iter()
        .zip(definition.drawn.values())
        .map(|(plan, drawn)| {
            json!({
                "id": plan.id, "symbol": drawn.symbol, "name": drawn.name.in_language(code), "unit": plan.unit.print(),
                "from": drawn.from.value, "to": drawn.to.value, "step": drawn.step.value, "told": drawn.told,
            })
        })
        .collect();
    let tasks: Vec<Value> = experiment
        .tasks
        .iter()
        .zip(&definition.tasks)
        .enumerate()
        .map(|(index, (plan, task))| {
            let (kind, unit, formula) = match (&plan.body, &task.number, &task.column) {
                (TaskBody::Number(number), Some(text), _) => ("number", Some(number.unit.print()), Some(&text.formula)),
                (TaskBody::Column(column), _, Some(text)) => ("column", Some(column.unit.print()), Some(&text.formula)),
                (TaskBody::Graph(_), ..) => ("graph", None, None),
                _ => ("text", None, None),
            };
            let editions: Vec<&str> = plan.editions.iter().map(|&edition| Edition::word(edition)).collect();
            json!({
                "id": plan.id, "kind": kind, "ask": task.ask.in_language(code), "unit": unit, "formula": formula,
                "marks": task.marks.total(), "editions": editions,
                "range": sample.map(|sample| sample.json(index)),
            })
        })
        .collect();
    let hazards: Vec<Value> = definition
        .hazards
        .iter()
        .filter_map(|key| language.hazard(key).map(|hazard| json!({ "id": key, "caution": hazard.text })))
        .collect();
    json!({
        "id": definition.id,
        "title": definition.title.in_language(code),
        "bench": definition.bench,
        "levels": definition.levels.iter().map(|level| level.word()).collect::<Vec<_>>(),
        "minutes": definition.minutes,
        "aim": definition.aim.in_language(code),
        "kit": definition.kit.iter().map(|item| item.in_language(code)).collect::<Vec<_>>(),
        "hazards": hazards,
        "drawn": drawn,
        "conditions": definition.conditions.iter().map(|one| json!({ "holds": one.holds, "why": one.why.in_language(code) })).collect::<Vec<_>>(),
        "tasks": tasks,
    })
}

fn text(experiment: &Experiment, sample: Option<&Sample<'_>>, value: &Value, language: &Language) -> String {
    let definition = &experiment.definition;
    let code = language.code.as_str();
    let word = |key: &'static str| language.word(key);
    let mut text =
        format!("{}: {}\n{}\n", definition.id, definition.title.in_language(code), definition.aim.in_language(code));
    text.push_str(&format!("{}: {} {}\n", word("time"), definition.minutes, word("minutes")));
    let mut section = |heading: &str, lines: Vec<String>| {
        text.push_str(&format!("\n{heading}\n"));
        for line in lines {
            text.push_str(&format!("  {line}\n"));
        }
    };
    section(word("kit"), definition.kit.iter().map(|item| item.in_language(code).to_owned()).collect());
    let hazards = definition.hazards.iter().filter_map(|key| language.hazard(key));
    section(word("cautions"), hazards.map(|hazard| format!("{}: {}", hazard.word, hazard.text)).collect());
    let drawn = definition.drawn.values().map(|drawn| {
        let print = |quantity: &crate::quantity::Quantity| quantity.print(&language.notation);
        format!(
            "{}, {}: {} … {}, Δ {}",
            drawn.symbol,
            drawn.name.in_language(code),
            print(&drawn.from),
            print(&drawn.to),
            print(&drawn.step)
        )
    });
    section(word("data"), drawn.collect());
    let tasks = value["tasks"].as_array().into_iter().flatten().map(|task| {
        let words = |key: &str| task[key].as_str().unwrap_or_default().to_owned();
        let editions: Vec<&str> = task["editions"].as_array().into_iter().flatten().filter_map(Value::as_str).collect();
        let formula = task["formula"].as_str().map(|formula| format!(" = {formula}")).unwrap_or_default();
        format!(
            "{} [{}] ({} {}){formula}\n    {}",
            words("id"),
            editions.join(", "),
            task["marks"],
            word("marks"),
            words("ask")
        )
    });
    section(word("tasks"), tasks.collect());
    if let Some(sample) = sample {
        section(word("ranges"), sample.lines());
    }
    let totals = Edition::ALL.map(|edition| {
        let marks = experiment.marks_of(edition);
        format!("{}: {marks} {}", word(edition.word_key()), word("marks"))
    });
    section(word("total"), totals.to_vec());
    text
}

//! A task's line in the audit. In: its measures and answers. Out: cells and a strip. It must round for reading only.

use crate::{
    audit::{Aspect, Measure, TaskAudit},
    language::Language,
    quantity::rounding,
    sheet::Strip,
};

/// The measures in the order of the columns, with the keys of their heads.
const COLUMNS: [(Aspect, &str); 5] = [
    (Aspect::Figures, "audit-figures"),
    (Aspect::Size, "audit-size"),
    (Aspect::Graph, "audit-graph"),
    (Aspect::Rows, "audit-rows"),
    (Aspect::Signal, "audit-signal"),
];

/// The heads of the table.
pub(super) fn heads(language: &Language) -> Vec<String> {
    let fixed = ["task", "marks", "audit-shared"].into_iter();
    fixed.chain(COLUMNS.map(|(_, key)| key)).map(|key| language.word(key).to_owned()).collect()
}

/// The row of a task.
pub(super) fn row(task: &TaskAudit, language: &Language) -> Vec<String> {
    let percent = rounding::to_places(task.shared * 100.0, 0).text;
    let mut cells = vec![task.id.clone(), task.marks.to_string(), format!("{percent}\u{202F}%")];
    cells.extend(COLUMNS.map(|(aspect, _)| {
        let found = task.measures.iter().find(|measure| measure.aspect == aspect);
        found.map_or_else(|| "–".to_owned(), |measure| cell(measure, language))
    }));
    cells
}

fn cell(measure: &Measure, language: &Language) -> String {
    let number = |value: f64| language.notation.number(&rounding::to_figures(value, 2).text);
    let whole = |value: f64| rounding::to_places(value, 0).text;
    let text = match measure.aspect {
        Aspect::Figures | Aspect::Rows => between(whole(measure.least), whole(measure.most)),
        Aspect::Size => between(number(measure.least), number(measure.most)),
        Aspect::Graph => format!("≥ {}\u{202F}%", whole(100.0 * measure.least)),
        Aspect::Signal => format!("≥ {}", number(measure.least)),
    };
    if measure.holds { text } else { format!("{text} *") }
}

fn between(least: String, most: String) -> String {
    if least == most { least } else { format!("{least}–{most}") }
}

/// The answers on an axis; nothing where there are none, or all are the same.
pub(super) fn strip(task: &TaskAudit, language: &Language) -> Option<Strip> {
    let values: Vec<f64> = task.answers.iter().filter_map(|text| text.parse().ok()).collect();
    let place = |wanted: f64| values.iter().position(|value| *value == wanted);
    let low = values.iter().copied().fold(f64::INFINITY, f64::min);
    let high = values.iter().copied().fold(f64::NEG_INFINITY, f64::max);
    let width = high - low;
    if width.is_nan() || width <= 0.0 {
        return None;
    }
    let mut ranges: Vec<f64> = task.accept.iter().map(|(from, to)| to - from).collect();
    ranges.sort_by(f64::total_cmp);
    let number = |wanted: f64| Some(language.notation.number(&task.answers[place(wanted)?]));
    let ends = (number(low)?, number(high)?);
    let over = if task.unit.is_empty() { String::new() } else { format!(" / {}", task.unit) };
    Some(Strip {
        label: format!("{}{over}", task.symbol),
        alt: format!("{}{over}: {} – {}", task.symbol, ends.0, ends.1),
        ends,
        ticks: values.iter().map(|value| rounding::to_places((value - low) / width, 4).value).collect(),
        range: rounding::to_places(ranges[ranges.len() / 2] / width, 4).value.min(1.0),
    })
}

//! Problems for editors. In: problems. Out: JSON with lines and columns from 1. It must not print.

use serde_json::{Value, json};

use super::{Level, Place, Problem};

/// The problems as a list of objects.
pub fn json(problems: &[Problem]) -> Value {
    problems.iter().map(one).collect()
}

fn one(problem: &Problem) -> Value {
    let level = match problem.level {
        Level::Error => "error",
        Level::Warning => "warning",
        Level::Notice => "notice",
    };
    let mut value = json!({ "level": level, "message": problem.message, "label": problem.label, "hint": problem.hint });
    match &problem.place {
        Some(Place::Text(source, span)) => {
            let ((line, column), (end_line, end_column)) =
                (source.line_column(span.start), source.line_column(span.end));
            value["file"] = json!(source.name);
            value["line"] = json!(line);
            value["column"] = json!(column);
            value["end_line"] = json!(end_line);
            value["end_column"] = json!(end_column);
        }
        Some(Place::Cell(file, sheet, address)) => {
            value["file"] = json!(file);
            value["sheet"] = json!(sheet);
            value["cell"] = json!(address);
        }
        Some(Place::File(file)) => value["file"] = json!(file),
        None => {}
    }
    value
}

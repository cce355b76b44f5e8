//! Problems for editors. In: problems. Out: JSON with lines and columns from 1. It must not print.

use serde_json::{Value, json};

use super::{Level, Place, Problem, screen};

/// The problems in order of place, as a list of objects with `level`, `message`, `label`, `hint` and their place.
///
/// A place in a text has `file`, `line`, `column`, `end_line` and `end_column`: from 1, columns in characters, the end
/// behind the last character. A place in a workbook has `file`, `sheet` and `cell`; a whole file has `file`.
/// Where further places belong to a problem, `also` lists them with their labels.
pub fn json(problems: &[Problem]) -> Value {
    screen::in_order(problems).into_iter().map(one).collect()
}

fn one(problem: &Problem) -> Value {
    let level = match problem.level {
        Level::Error => "error",
        Level::Warning => "warning",
        Level::Notice => "notice",
    };
    let mut value = json!({ "level": level, "message": problem.message, "label": problem.label, "hint": problem.hint });
    if let Some(place) = &problem.place {
        locate(&mut value, place);
    }
    if !problem.also.is_empty() {
        let also = problem.also.iter().map(|(place, label)| {
            let mut value = json!({ "label": label });
            locate(&mut value, place);
            value
        });
        value["also"] = also.collect();
    }
    value
}

fn locate(value: &mut Value, place: &Place) {
    match place {
        Place::Text(source, span) => {
            let ((line, column), (end_line, end_column)) =
                (source.line_column(span.start), source.line_column(span.end));
            value["file"] = json!(source.name);
            value["line"] = json!(line);
            value["column"] = json!(column);
            value["end_line"] = json!(end_line);
            value["end_column"] = json!(end_column);
        }
        Place::Cell(file, sheet, address) => {
            value["file"] = json!(file);
            value["sheet"] = json!(sheet);
            value["cell"] = json!(address);
        }
        Place::File(file) => value["file"] = json!(file),
    }
}

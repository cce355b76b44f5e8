//! Quantities in texts. In: the definition and all names. Out: problems where a text names what a reader can not see.
//! It must not judge wording.

use super::{Checker, Definition, Names};
use crate::{
    experiment::{
        Text,
        prose::{self, Piece},
    },
    formula::{Absence, FormulaError, Scope, Shape},
};

/// Who reads a text.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Reader {
    /// The student, before answering.
    Student,
    /// The teacher, and whoever reads the key.
    Teacher,
}

impl Checker<'_> {
    /// Texts may speak of any answer, also of one that is asked for later.
    pub(super) fn words(&mut self, definition: &Definition, names: &Names) {
        for (pointer, text) in definition.texts() {
            let parts: Vec<&str> = pointer.split('/').skip(1).collect();
            let reader = match parts.as_slice() {
                ["setting_up", ..] | ["tasks", _, "ask" | "help"] => Reader::Student,
                ["tasks", _, "number", "note" | "step" | "slips", ..]
                | ["tasks", _, "text", "model"]
                | ["teacher", ..] => Reader::Teacher,
                _ => continue,
            };
            self.quantities(&pointer, text, names, reader, definition);
        }
    }

    fn quantities(&mut self, pointer: &str, text: &Text, names: &Names, reader: Reader, definition: &Definition) {
        for (code, words) in text.entries() {
            let place = format!("{pointer}/{code}");
            let pieces = match prose::split(words) {
                Ok(pieces) => pieces,
                Err(span) => {
                    let fault = FormulaError::new(span, "a brace is not closed", "opened here");
                    self.formula_fault(&place, fault.hint("write `{m}` for a symbol and `{=m}` for a value"));
                    continue;
                }
            };
            for piece in pieces {
                let (name, span, value) = match piece {
                    Piece::Symbol(name, span) => (name, span, false),
                    Piece::Value(name, span) => (name, span, true),
                    Piece::Words(_) => continue,
                };
                let fault = |message: String, label: &str| FormulaError::new(span, message, label);
                let own = definition.tasks.iter().any(|task| task.id == name);
                let fault = match names.type_of(name) {
                    None if names.absence(name) == Absence::Faulty => continue,
                    None => fault(format!("`{name}` is not on the sheet"), "not known here").hint(unknown(name, names)),
                    Some(_) if names.is_hidden(name) => {
                        fault(format!("`{name}` is not told to the student"), "not on the sheet")
                            .hint(names.untold(name))
                    }
                    Some(found) if value && found.shape == Shape::Column => {
                        let hint = format!("write `{{{name}}}` for its symbol");
                        fault(format!("`{name}` is a column and has no single value"), "a column").hint(hint)
                    }
                    Some(_) if value && own && reader == Reader::Student => {
                        let hint = format!("write `{{{name}}}` for its symbol");
                        fault(format!("the value of `{name}` would give its answer away"), "printed on the sheet")
                            .hint(hint)
                    }
                    Some(_) => continue,
                };
                self.formula_fault(&place, fault);
            }
        }
    }
}

fn unknown(name: &str, names: &Names) -> String {
    let known = names.shown();
    match crate::report::nearest(name, known.iter().copied()) {
        Some(near) => format!("did you mean `{near}`?"),
        None if name.is_empty() => "name a quantity between the braces, such as `{m}`".to_owned(),
        None => format!("known are {}", known.join(", ")),
    }
}

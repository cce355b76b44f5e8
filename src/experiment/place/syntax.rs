//! Faults of YAML's own syntax in plain words. In: where the YAML parser stopped and what it said.
//! Out: a problem at the place to mend, which often lies before the place where the parser stopped. It reads nothing on.

use std::{ops::Range, sync::Arc};

use crate::report::{Place, Problem, Source};

/// The fault behind a parser's complaint; `open` is the last bracket that is still open.
pub(super) fn explain(source: &Arc<Source>, at: usize, info: &str, open: Option<usize>) -> Problem {
    let text = source.text.as_str();
    let at = source.boundary(at);
    let line = line_of(text, at);
    let sign = text[at..].chars().next().unwrap_or(' ');
    let sign_end = (at + sign.len_utf8()).min(text.len());
    let problem = |span, message: &str, label: &str, hint: &str| {
        Problem::error(message).at(Place::Text(Arc::clone(source), span)).label(label).hint(hint)
    };
    if let Some(tab) = tab_near(text, at) {
        return problem(
            tab..tab + 1,
            "a tab indents this line",
            "expected spaces",
            "indent with spaces: YAML does not allow tabs there",
        );
    }
    if info.contains("quoted scalar") && !info.contains("escape") {
        let hint =
            format!("close it with `{sign}` on the same line; quotes are only needed around texts with special signs");
        return problem(at..line.end, "the text in quotes does not end", "begins here", &hint);
    }
    if info.contains("unknown escape") {
        return problem(
            at..line.end,
            "a backslash with a letter that means nothing",
            "in this text",
            "write `\\\\` for a backslash, or put the text in single quotes",
        );
    }
    if let Some(bracket) = open.filter(|&bracket| info.contains("expected ','") || bracket < line.start) {
        let (sign, close) = if text[bracket..].starts_with('[') { ("[", "]") } else { ("{", "}") };
        let hint = format!("close it with `{close}`; put a text that holds brackets, `: ` or commas in quotes");
        return problem(
            bracket..bracket + 1,
            &format!("`{sign}` is not closed"),
            &format!("expected a matching `{close}`"),
            &hint,
        );
    }
    if info.contains("unknown anchor") {
        return problem(
            at..line.end,
            "a reference within the file",
            "`&` and `*` are not allowed",
            "put a text that begins with `*` in quotes",
        );
    }
    if info.contains("mapping values are not allowed") || info.contains("illegal placement of ':'") {
        return second_colon(source, at);
    }
    if info.contains("expect ':'") || info.contains("expected ':'") {
        let before = line_of(text, text[..at].trim_end().len());
        return problem(
            before,
            "a line without `: `",
            "expected `key: value`",
            "write a colon and a space behind the key",
        );
    }
    if info.contains("unexpected character") {
        let message = format!("a text cannot begin with `{sign}`");
        return problem(at..sign_end, &message, "expected a letter, a number or a quote", "put the text in quotes");
    }
    if info.contains("expected '-' indicator") {
        return problem(
            line,
            "a line among list entries without its dash",
            "expected `- …`",
            "begin an entry with `- `, or indent the line to make it part of the entry above",
        );
    }
    if info.contains("expected key") || info.contains("invalid indentation") {
        return problem(
            line,
            "this line's indentation matches no line above",
            "expected the indentation of its neighbours",
            "put fields of one part under each other",
        );
    }
    if info.contains("bracket") {
        return problem(
            at..sign_end,
            "a closing bracket that nothing opened",
            "expected a value",
            "delete it, or put the text in quotes",
        );
    }
    if info.contains("block sequence entries") {
        return problem(
            at..sign_end,
            "a list entry on the line of its key",
            "expected a new line before it",
            "write each `- …` on a line of its own below the key",
        );
    }
    problem(
        at..sign_end,
        &format!("not readable as YAML: {info}"),
        "reading stopped here",
        "check indentation, quotes and the space behind each colon",
    )
}

/// A colon where none may stand: within a text, or behind a key that is indented too far.
fn second_colon(source: &Arc<Source>, at: usize) -> Problem {
    let text = source.text.as_str();
    let line = line_of(text, at);
    let before = text.get(line.start..at).unwrap_or_default();
    let place = |span| Place::Text(Arc::clone(source), span);
    match before.find(": ") {
        Some(first) => {
            let value = line.start + first + 2;
            let start = value + text[value..at].len() - text[value..at].trim_start().len();
            Problem::error("a second `: ` in one line")
                .at(place(start..line.end))
                .label("this text holds a colon and a space")
                .hint("put the text in quotes")
        }
        None => Problem::error(format!("`{}` is indented deeper than the line above allows", before.trim()))
            .at(place(line.start..line.start + before.len()))
            .label("expected the indentation of its neighbours")
            .hint("put fields of one part under each other; a field with a value has no fields below it"),
    }
}

/// The first tab in the indentation of the line where reading stopped, or of the next one.
fn tab_near(text: &str, at: usize) -> Option<usize> {
    let here = text[..at].rfind('\n').map_or(0, |end| end + 1);
    let next = text[at..].find('\n').map(|end| at + end + 1);
    [Some(here), next].into_iter().flatten().find_map(|start| {
        let indent = text[start..].len() - text[start..].trim_start_matches([' ', '\t']).len();
        text[start..start + indent].find('\t').map(|tab| start + tab)
    })
}

/// The line around a byte, without its indentation and its end.
fn line_of(text: &str, at: usize) -> Range<usize> {
    let start = text[..at].rfind('\n').map_or(0, |end| end + 1);
    let end = text[at..].find('\n').map_or(text.len(), |end| at + end);
    let line = &text[start..end];
    let indent = line.len() - line.trim_start().len();
    (start + indent).min(end)..(start + line.trim_end().len()).max(start + indent)
}

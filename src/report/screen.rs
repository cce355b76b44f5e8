//! Problems for people. In: problems. Out: text with file, line, column, underline and hint. It must not print.

use std::{ops::Range, sync::Arc};

use annotate_snippets::{AnnotationKind, Group, Level as Sign, Origin, Renderer, Snippet};

use super::{Level, Place, Problem, Source};

/// Columns of a terminal that the text fits into; longer source lines are cut around the underline.
const WIDTH: usize = 120;

/// The problems in order of place, each with its source line underlined, and a closing count; empty where there is none.
///
/// Colour (ANSI escape codes) is for terminals.
pub fn show(problems: &[Problem], colour: bool) -> String {
    let renderer = if colour { Renderer::styled() } else { Renderer::plain() }.term_width(WIDTH);
    let mut text = String::new();
    for problem in in_order(problems) {
        text.push_str(&renderer.render(&[group(problem)]));
        text.push_str("\n\n");
    }
    text.push_str(&count(problems));
    text
}

/// The problems by file and by place in it; those without a place first, those at one place in the order found.
pub(super) fn in_order(problems: &[Problem]) -> Vec<&Problem> {
    let mut sorted: Vec<&Problem> = problems.iter().collect();
    sorted.sort_by_key(|problem| match &problem.place {
        Some(Place::Text(source, span)) => (source.name.clone(), span.start),
        Some(Place::Cell(file, ..) | Place::File(file)) => (file.clone(), 0),
        None => (String::new(), 0),
    });
    sorted
}

fn sign(level: Level) -> Sign<'static> {
    match level {
        Level::Error => Sign::ERROR,
        Level::Warning => Sign::WARNING,
        Level::Notice => Sign::NOTE.with_name("notice"),
    }
}

fn group(problem: &Problem) -> Group<'_> {
    let mut group = Group::with_title(sign(problem.level).primary_title(&problem.message));
    group = match &problem.place {
        Some(Place::Text(source, span)) => {
            let nearby = problem.also.iter().filter_map(|(place, label)| match place {
                Place::Text(other, span) if Arc::ptr_eq(source, other) => {
                    Some(annotation(AnnotationKind::Context, source, span, label))
                }
                _ => None,
            });
            let primary = annotation(AnnotationKind::Primary, source, span, &problem.label);
            group.element(Snippet::source(&source.text).path(&source.name).annotation(primary).annotations(nearby))
        }
        Some(Place::Cell(file, sheet, address)) => {
            group.element(Origin::path(format!("{file}, sheet {sheet}, cell {address}")))
        }
        Some(Place::File(file)) => group.element(Origin::path(file)),
        None => group,
    };
    match &problem.hint {
        Some(hint) => group.element(Sign::HELP.with_name("hint").message(hint)),
        None => group,
    }
}

/// An underline within the first line of a range.
fn annotation<'a>(
    kind: AnnotationKind,
    source: &Source,
    span: &Range<usize>,
    label: &'a str,
) -> annotate_snippets::Annotation<'a> {
    let (start, end) = (source.boundary(span.start), source.boundary(span.end));
    let line = source.text[start..].find(['\r', '\n']).map_or(source.text.len(), |at| start + at);
    let underline = kind.span(start..end.min(line).max(start));
    if label.is_empty() { underline } else { underline.label(label) }
}

fn count(problems: &[Problem]) -> String {
    let part = |level, one: &str| match problems.iter().filter(|problem| problem.level == level).count() {
        0 => None,
        1 => Some(format!("1 {one}")),
        many => Some(format!("{many} {one}s")),
    };
    let parts = [part(Level::Error, "error"), part(Level::Warning, "warning"), part(Level::Notice, "notice")];
    parts.into_iter().flatten().collect::<Vec<_>>().join(", ")
}

//! Problems for people. In: problems. Out: text with file, line, column, underline and hint. It must not print.

use annotate_snippets::{AnnotationKind, Group, Level as Sign, Renderer, Snippet};

use super::{Level, Place, Problem};

/// The problems in order of place, each with its source line underlined, and a closing count.
pub fn show(problems: &[Problem], colour: bool) -> String {
    let mut sorted: Vec<&Problem> = problems.iter().collect();
    sorted.sort_by_key(|problem| order(problem));
    let renderer = if colour { Renderer::styled() } else { Renderer::plain() };
    let mut text = String::new();
    for problem in &sorted {
        text.push_str(&renderer.render(&[group(problem)]));
        text.push_str("\n\n");
    }
    text.push_str(&count(problems));
    text
}

fn order(problem: &Problem) -> (String, usize) {
    match &problem.place {
        Some(Place::Text(source, span)) => (source.name.clone(), span.start),
        Some(Place::Cell(file, ..) | Place::File(file)) => (file.clone(), 0),
        None => (String::new(), 0),
    }
}

fn sign(level: Level) -> Sign<'static> {
    match level {
        Level::Error => Sign::ERROR,
        Level::Warning => Sign::WARNING,
        Level::Notice => Sign::NOTE.with_name("notice"),
    }
}

fn group(problem: &Problem) -> Group<'_> {
    let mut group = sign(problem.level).primary_title(&problem.message).elements(snippet(problem));
    match &problem.place {
        Some(Place::Cell(file, sheet, address)) => {
            group = group.element(Sign::NOTE.no_name().message(format!("in {file}, sheet {sheet}, cell {address}")));
        }
        Some(Place::File(file)) => group = group.element(Sign::NOTE.no_name().message(format!("in {file}"))),
        _ => {}
    }
    match &problem.hint {
        Some(hint) => group.element(Sign::HELP.with_name("hint").message(hint)),
        None => group,
    }
}

fn snippet(problem: &Problem) -> Option<Snippet<'_, annotate_snippets::Annotation<'_>>> {
    let Some(Place::Text(source, span)) = &problem.place else { return None };
    let end = span.end.min(source.text.len());
    let start = span.start.min(end);
    let line_end = source.text[start..].find('\n').map_or(source.text.len(), |at| start + at);
    let mut annotation = AnnotationKind::Primary.span(start..end.min(line_end.max(start)));
    if !problem.label.is_empty() {
        annotation = annotation.label(&problem.label);
    }
    Some(Snippet::source(&source.text).path(&source.name).annotation(annotation))
}

fn count(problems: &[Problem]) -> String {
    let part = |level, one: &str| {
        let count = problems.iter().filter(|problem| problem.level == level).count();
        match count {
            0 => None,
            1 => Some(format!("1 {one}")),
            _ => Some(format!("{count} {one}s")),
        }
    };
    let parts = [part(Level::Error, "error"), part(Level::Warning, "warning"), part(Level::Notice, "notice")];
    parts.into_iter().flatten().collect::<Vec<_>>().join(", ")
}

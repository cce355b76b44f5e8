//! Walks through the events of a YAML text. In: the text. Out: the bytes of every key and value, or what is refused.
//! It must not go deeper than a definition can be, whatever the text asks for.

use std::{collections::BTreeMap, ops::Range, sync::Arc};

use saphyr_parser::{Event, Parser, ScalarStyle, Span, StrInput};

use super::{Entry, Path, Scalar, syntax};
use crate::report::{Place, Problem, Problems, Source};

/// No definition nests deeper; the limit keeps a hostile file from using up the stack.
const DEEPEST: usize = 64;

/// The file cannot be read on; the problem is noted.
struct Stop;

pub(super) struct Walker<'a> {
    source: &'a Arc<Source>,
    /// The byte of each character.
    bytes: Vec<usize>,
    parser: Parser<'a, StrInput<'a>>,
    entries: BTreeMap<Path, Entry>,
    /// Opening brackets not closed yet.
    open: Vec<usize>,
    depth: usize,
    problems: Problems,
}

impl<'a> Walker<'a> {
    /// Every key and value of the text.
    pub(super) fn walk(source: &'a Arc<Source>) -> Result<BTreeMap<Path, Entry>, Problems> {
        let mut walker = Self {
            source,
            bytes: source.text.char_indices().map(|(byte, _)| byte).collect(),
            parser: Parser::new_from_str(&source.text),
            entries: BTreeMap::new(),
            open: Vec::new(),
            depth: 0,
            problems: Vec::new(),
        };
        walker.refuse_invisible();
        match walker.document() {
            Ok(()) if walker.problems.is_empty() => Ok(walker.entries),
            _ => Err(walker.problems),
        }
    }

    /// Signs that no editor shows and that readers of YAML take differently.
    fn refuse_invisible(&mut self) {
        let text = &self.source.text;
        for (at, sign) in text.char_indices() {
            let shown = matches!(sign, '\n' | '\t') || (sign == '\r' && text[at + 1..].starts_with('\n'));
            if !shown && (sign.is_control() || matches!(sign, '\u{2028}' | '\u{2029}')) {
                let message = format!("an invisible sign (U+{:04X})", u32::from(sign));
                let problem = self.problem(at..at + sign.len_utf8(), message).label("stands here");
                self.problems.push(problem.hint("delete it; write a new line or a space where one is meant"));
            }
        }
    }

    fn stop(&mut self, problem: Problem) -> Stop {
        self.problems.push(problem);
        Stop
    }

    fn document(&mut self) -> Result<(), Stop> {
        loop {
            let (event, span) = self.next()?;
            match event {
                Event::StreamStart | Event::DocumentStart(_) => {}
                Event::StreamEnd => return Err(self.empty()),
                Event::Scalar(ref text, ScalarStyle::Plain, 0, None) if text.is_empty() => return Err(self.empty()),
                event => {
                    self.node(&Path::root(), None, event, span)?;
                    break;
                }
            }
        }
        loop {
            let (event, span) = self.next()?;
            match event {
                Event::StreamEnd => return Ok(()),
                Event::DocumentStart(_) => {
                    let problem = self.problem(span, "a second document begins here");
                    let problem = problem.label("expected the end of the file");
                    return Err(self.stop(problem.hint("one file holds one document: delete the line `---`")));
                }
                _ => {}
            }
        }
    }

    fn empty(&mut self) -> Stop {
        let problem = self.problem(0..0, "the file is empty");
        self.stop(problem.label("expected fields such as `title: …`"))
    }

    fn next(&mut self) -> Result<(Event<'a>, Range<usize>), Stop> {
        match self.parser.next_event() {
            Some(Ok((event, span))) => Ok((event, self.range(span))),
            Some(Err(error)) => {
                let at = self.byte(error.marker().index());
                let problem = syntax::explain(self.source, at, error.info(), self.open.last().copied());
                Err(self.stop(problem))
            }
            None => Ok((Event::StreamEnd, self.source.text.len()..self.source.text.len())),
        }
    }

    /// Notes a part of the file and everything in it; the end of its bytes.
    fn node(
        &mut self,
        path: &Path,
        key: Option<Range<usize>>,
        event: Event<'a>,
        span: Range<usize>,
    ) -> Result<usize, Stop> {
        let mut scalar = None;
        let value = match event {
            Event::Scalar(text, style, anchor, tag) => {
                self.refuse(anchor, tag.is_some(), &span);
                let place = self.written(&span, key.as_ref());
                scalar = Some(Scalar { text: text.into_owned(), style });
                place
            }
            Event::SequenceStart(anchor, tag) => {
                self.refuse(anchor, tag.is_some(), &span);
                span.start..self.inner(&span, |walker| walker.sequence(path, span.end))?
            }
            Event::MappingStart(anchor, tag) => {
                self.refuse(anchor, tag.is_some(), &span);
                span.start..self.inner(&span, |walker| walker.mapping(path, span.end))?
            }
            Event::Alias(_) => {
                self.refuse(1, false, &span);
                span
            }
            _ => span,
        };
        let end = value.end;
        self.entries.insert(path.clone(), Entry { key, value, scalar });
        Ok(end)
    }

    fn inner(
        &mut self,
        span: &Range<usize>,
        walk: impl FnOnce(&mut Self) -> Result<usize, Stop>,
    ) -> Result<usize, Stop> {
        if self.depth == DEEPEST {
            let problem = self.problem(span.clone(), "the file nests too deeply");
            return Err(self.stop(problem.label(format!("expected at most {DEEPEST} levels"))));
        }
        let bracket = !span.is_empty();
        self.depth += 1;
        if bracket {
            self.open.push(span.start);
        }
        let end = walk(self)?;
        if bracket {
            self.open.pop();
        }
        self.depth -= 1;
        Ok(end)
    }

    fn sequence(&mut self, path: &Path, start: usize) -> Result<usize, Stop> {
        let mut end = start;
        for index in 0.. {
            let (event, span) = self.next()?;
            if event == Event::SequenceEnd {
                return Ok(end.max(if span.is_empty() { 0 } else { span.end }));
            }
            end = end.max(self.node(&path.clone().index(index), None, event, span)?);
        }
        Ok(end)
    }

    fn mapping(&mut self, path: &Path, start: usize) -> Result<usize, Stop> {
        let mut end = start;
        loop {
            let (event, span) = self.next()?;
            let (name, style) = match event {
                Event::MappingEnd => return Ok(end.max(if span.is_empty() { 0 } else { span.end })),
                Event::Scalar(name, style, anchor, tag) => {
                    self.refuse(anchor, tag.is_some(), &span);
                    (name.into_owned(), style)
                }
                _ => {
                    let problem = self.problem(span, "a key that is not a word").label("expected a word");
                    return Err(
                        self.stop(problem.hint("write `key: value`; put a key that begins with a bracket in quotes"))
                    );
                }
            };
            self.look_at_key(path, &name, style, &span);
            let (event, place) = self.next()?;
            end = end.max(span.end).max(self.node(&path.clone().key(name), Some(span), event, place)?);
        }
    }

    fn look_at_key(&mut self, path: &Path, name: &str, style: ScalarStyle, span: &Range<usize>) {
        if let Some(Entry { key: Some(before), .. }) = self.entries.get(&path.clone().key(name)) {
            let first = Place::Text(Arc::clone(self.source), before.clone());
            let problem = self.problem(span.clone(), format!("`{name}` is given twice"));
            self.problems.push(problem.label("second time").also(first, "first time").hint("keep one of the two"));
        }
        if style == ScalarStyle::Plain && name == "<<" {
            let problem = self.problem(span.clone(), "`<<` takes fields over from another part of the file");
            self.problems.push(
                problem
                    .label("not allowed here")
                    .hint("write the fields out, so that each part can be read on its own"),
            );
        }
        if style == ScalarStyle::Plain && name.starts_with('\u{a0}') {
            let length = name.len() - name.trim_start_matches('\u{a0}').len();
            let problem = self.problem(span.start..span.start + length, "a no-break space stands before this field");
            self.problems.push(problem.label("looks like a space, but is not").hint("indent with ordinary spaces"));
        }
    }

    fn refuse(&mut self, anchor: usize, tagged: bool, span: &Range<usize>) {
        if anchor > 0 {
            let problem =
                self.problem(span.clone(), "a reference within the file").label("`&` and `*` are not allowed");
            self.problems.push(
                problem.hint("write the part out in each place; put a text that begins with `&` or `*` in quotes"),
            );
        }
        if tagged {
            let problem = self.problem(span.clone(), "a type mark").label("`!` is not allowed");
            self.problems.push(problem.hint("leave it out, or put a text that begins with `!` in quotes"));
        }
    }

    /// The bytes of a scalar; those of its key, or of the dash before it, where nothing is written.
    fn written(&self, span: &Range<usize>, key: Option<&Range<usize>>) -> Range<usize> {
        let text = self.source.text[span.clone()].trim_end_matches([' ', '\t', '\r', '\n']);
        match key {
            _ if !text.is_empty() => span.start..span.start + text.len(),
            Some(key) => key.clone(),
            None => {
                let end = self.source.text[..span.start].trim_end().len();
                self.source.text[..end].char_indices().next_back().map_or(0, |(at, _)| at)..end
            }
        }
    }

    fn byte(&self, index: usize) -> usize {
        self.bytes.get(index).copied().unwrap_or(self.source.text.len())
    }

    fn range(&self, span: Span) -> Range<usize> {
        let start = self.byte(span.start.index());
        start..self.byte(span.end.index()).max(start)
    }

    fn problem(&self, span: Range<usize>, message: impl Into<String>) -> Problem {
        Problem::error(message).at(Place::Text(Arc::clone(self.source), span))
    }
}

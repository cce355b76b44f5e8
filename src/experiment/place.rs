//! Where each part of a YAML file stands. In: the text. Out: the bytes of every key and value, by JSON pointer.
//! It must not ask what a key means.

use std::{collections::BTreeMap, ops::Range, sync::Arc};

use saphyr_parser::{Event, Parser, Span};

use crate::report::{Place, Problem, Problems, Source};

/// Keys and values of a YAML file with their places.
#[derive(Debug)]
pub struct PlaceMap {
    source: Arc<Source>,
    entries: BTreeMap<String, Entry>,
}

#[derive(Debug)]
struct Entry {
    key: Option<Range<usize>>,
    value: Range<usize>,
    scalar: Option<String>,
}

impl PlaceMap {
    /// Reads the places of a file.
    ///
    /// # Errors
    /// What keeps the file from being plain YAML: bad syntax, a key given twice, anchors, several documents.
    pub fn read(source: &Arc<Source>) -> Result<Self, Problems> {
        let mut walker = Walker {
            source,
            bytes: source.text.char_indices().map(|(byte, _)| byte).collect(),
            parser: Parser::new_from_str(&source.text),
            entries: BTreeMap::new(),
            problems: Vec::new(),
        };
        if let Err(stop) = walker.document() {
            walker.problems.push(stop);
        }
        let Walker { entries, problems, .. } = walker;
        if problems.is_empty() { Ok(Self { source: Arc::clone(source), entries }) } else { Err(problems) }
    }

    /// The place of a value; that of the nearest part around it where the pointer leads nowhere.
    pub fn value(&self, pointer: &str) -> Place {
        let entry = self.nearest(pointer);
        Place::Text(Arc::clone(&self.source), entry.map_or(0..0, |entry| entry.value.clone()))
    }

    /// The place of a key; of the value for an entry of a list.
    pub fn key(&self, pointer: &str) -> Place {
        let entry = self.nearest(pointer);
        let span =
            entry.map_or(0..0, |entry| entry.key.clone().unwrap_or_else(|| first_line(&self.source, &entry.value)));
        Place::Text(Arc::clone(&self.source), span)
    }

    /// The place of a part of a text value, given by bytes of the value.
    ///
    /// Exact where the value stands in the file as it is; else the whole value.
    pub fn inside(&self, pointer: &str, span: &Range<usize>) -> Place {
        let Some(Entry { value, scalar: Some(text), .. }) = self.nearest(pointer) else { return self.value(pointer) };
        let written = &self.source.text[value.clone()];
        match written.find(text.as_str()) {
            Some(at) => {
                let start = value.start + at;
                Place::Text(
                    Arc::clone(&self.source),
                    start + span.start.min(text.len())..start + span.end.min(text.len()),
                )
            }
            None => self.value(pointer),
        }
    }

    /// A place given by bytes of the file.
    pub fn at_bytes(&self, span: Range<usize>) -> Place {
        Place::Text(Arc::clone(&self.source), span)
    }

    /// The keys below a mapping.
    pub fn keys_below<'a>(&'a self, pointer: &'a str) -> impl Iterator<Item = &'a str> {
        let prefix = format!("{pointer}/");
        self.entries.keys().filter_map(move |known| known.strip_prefix(&prefix)).filter(|rest| !rest.contains('/'))
    }

    fn nearest(&self, pointer: &str) -> Option<&Entry> {
        let mut wanted = pointer;
        loop {
            if let Some(entry) = self.entries.get(wanted) {
                return Some(entry);
            }
            wanted = &wanted[..wanted.rfind('/')?];
        }
    }
}

fn first_line(source: &Source, span: &Range<usize>) -> Range<usize> {
    let text = &source.text[span.clone()];
    span.start..span.start + text.find(['\r', '\n']).unwrap_or(text.len())
}

/// A key as a part of a JSON pointer (RFC 6901).
pub(crate) fn escape(key: &str) -> String {
    key.replace('~', "~0").replace('/', "~1")
}

struct Walker<'a> {
    source: &'a Arc<Source>,
    /// The byte of each character.
    bytes: Vec<usize>,
    parser: Parser<'a, saphyr_parser::StrInput<'a>>,
    entries: BTreeMap<String, Entry>,
    problems: Problems,
}

impl<'a> Walker<'a> {
    fn byte(&self, index: usize) -> usize {
        self.bytes.get(index).copied().unwrap_or(self.source.text.len())
    }

    fn range(&self, span: Span) -> Range<usize> {
        self.byte(span.start.index())..self.byte(span.end.index())
    }

    fn problem(&self, span: Range<usize>, message: impl Into<String>, label: &str, hint: &str) -> Problem {
        Problem::error(message).at(Place::Text(Arc::clone(self.source), span)).label(label).hint(hint)
    }

    fn next(&mut self) -> Result<(Event<'a>, Range<usize>), Problem> {
        match self.parser.next_event() {
            Some(Ok((event, span))) => Ok((event, self.range(span))),
            Some(Err(error)) => {
                let at = self.byte(error.marker().index());
                Err(self.syntax(at, error.info()))
            }
            None => Ok((Event::StreamEnd, self.source.text.len()..self.source.text.len())),
        }
    }

    fn syntax(&self, at: usize, info: &str) -> Problem {
        let line = self.source.text[..at].rfind('\n').map_or(0, |end| end + 1);
        let tab = self.source.text[line..at.max(line)].contains('\t') || self.source.text[at..].starts_with('\t');
        let hint = if tab {
            "indent with spaces, not with tabs"
        } else {
            "check indentation, quotes and the space behind each colon; quote a text that holds `: ` or `#`"
        };
        let end = self.source.text[at..].chars().next().map_or(at, |sign| at + sign.len_utf8());
        self.problem(at..end, format!("this is not YAML: {info}"), "reading stopped here", hint)
    }

    fn document(&mut self) -> Result<(), Problem> {
        loop {
            let (event, span) = self.next()?;
            match event {
                Event::StreamStart | Event::DocumentStart(_) => {}
                Event::StreamEnd => {
                    return Err(self.problem(
                        0..0,
                        "the file is empty",
                        "expected an experiment",
                        "see `labquire schema`",
                    ));
                }
                event => {
                    self.node(String::new(), None, event, span)?;
                    break;
                }
            }
        }
        loop {
            let (event, span) = self.next()?;
            match event {
                Event::StreamEnd => return Ok(()),
                Event::DocumentStart(_) => {
                    return Err(self.problem(
                        span,
                        "a second document in one file",
                        "expected the end",
                        "one file holds one experiment",
                    ));
                }
                _ => {}
            }
        }
    }

    fn node(
        &mut self,
        pointer: String,
        key: Option<Range<usize>>,
        event: Event<'a>,
        span: Range<usize>,
    ) -> Result<Range<usize>, Problem> {
        let mut scalar = None;
        let value = match event {
            Event::Scalar(text, _, anchor, _) => {
                self.refuse_anchor(anchor, &span);
                scalar = Some(text.into_owned());
                span
            }
            Event::SequenceStart(anchor, _) => {
                self.refuse_anchor(anchor, &span);
                let mut end = span.end;
                for index in 0.. {
                    let (event, inner) = self.next()?;
                    if event == Event::SequenceEnd {
                        end = end.max(inner.end.min(self.trimmed_end(inner.end)));
                        break;
                    }
                    end = self.node(format!("{pointer}/{index}"), None, event, inner)?.end;
                }
                span.start..end
            }
            Event::MappingStart(anchor, _) => {
                self.refuse_anchor(anchor, &span);
                span.start..self.mapping(&pointer, span.end)?
            }
            Event::Alias(_) => {
                let problem = self.problem(
                    span.clone(),
                    "a reference to another part of the file",
                    "not read here",
                    "write the text out: definitions use no `&` and `*`",
                );
                self.problems.push(problem);
                span
            }
            _ => span,
        };
        self.entries.insert(pointer, Entry { key, value: value.clone(), scalar });
        Ok(value)
    }

    fn mapping(&mut self, pointer: &str, start: usize) -> Result<usize, Problem> {
        let mut end = start;
        loop {
            let (event, span) = self.next()?;
            let name = match event {
                Event::MappingEnd => return Ok(end.max(self.trimmed_end(span.end))),
                Event::Scalar(name, ..) => name.into_owned(),
                _ => {
                    return Err(self.problem(
                        span,
                        "a key that is not a word",
                        "expected a word",
                        "write `key: value`",
                    ));
                }
            };
            let inner = format!("{pointer}/{}", escape(&name));
            if let Some(Entry { key: Some(before), .. }) = self.entries.get(&inner) {
                let (line, _) = self.source.line_column(before.start);
                let problem = self.problem(
                    span.clone(),
                    format!("`{name}` stands here a second time"),
                    "given before",
                    &format!("it stands in line {line} already: keep one of the two"),
                );
                self.problems.push(problem);
            }
            let (event, place) = self.next()?;
            end = self.node(inner, Some(span), event, place)?.end;
        }
    }

    /// The end of a block without the white space behind it.
    fn trimmed_end(&self, end: usize) -> usize {
        self.source.text[..end].trim_end().len()
    }

    fn refuse_anchor(&mut self, anchor: usize, span: &Range<usize>) {
        if anchor > 0 {
            let problem = self.problem(
                span.clone(),
                "a part of the file is named with `&`",
                "not read here",
                "write texts out: definitions use no `&` and `*`",
            );
            self.problems.push(problem);
        }
    }
}

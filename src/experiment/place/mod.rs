//! Where each part of a YAML file stands. In: the text. Out: the bytes of every key and value, by path.
//! It must not ask what a key means.

mod path;
mod scalar;
mod syntax;
mod walker;

use std::{collections::BTreeMap, ops::Range, sync::Arc};

use saphyr_parser::ScalarStyle;

pub(crate) use path::escape;
pub use path::{Path, Segment};
use walker::Walker;

use crate::report::{Place, Problems, Source};

/// Keys and values of a YAML file with their places.
#[derive(Debug)]
pub struct PlaceMap {
    source: Arc<Source>,
    entries: BTreeMap<Path, Entry>,
}

#[derive(Debug)]
struct Entry {
    key: Option<Range<usize>>,
    value: Range<usize>,
    scalar: Option<Scalar>,
}

#[derive(Debug)]
struct Scalar {
    text: String,
    style: ScalarStyle,
}

impl PlaceMap {
    /// Reads the places of a file.
    ///
    /// # Errors
    /// What keeps the file from being one plain YAML document: bad syntax, keys given twice, references, tags, a second
    /// document, no document. All of it where the file can be read on, else up to the first.
    pub fn read(source: &Arc<Source>) -> Result<Self, Problems> {
        let entries = Walker::walk(source)?;
        Ok(Self { source: Arc::clone(source), entries })
    }

    /// The text that the places lie in.
    pub fn source(&self) -> &Arc<Source> {
        &self.source
    }

    /// The place of a value; that of the nearest part around it where the path leads nowhere. A field left empty has
    /// the place of its key.
    pub fn value(&self, path: impl Into<Path>) -> Place {
        self.place(self.nearest(path.into()).map_or(0..0, |(_, entry)| entry.value.clone()))
    }

    /// The place of a key; of the first line of the value for an entry of a list; of the first key for the whole file.
    pub fn key(&self, path: impl Into<Path>) -> Place {
        let Some((path, entry)) = self.nearest(path.into()) else { return self.place(0..0) };
        if path == Path::root()
            && let Some(first) = self.entries.values().filter_map(|entry| entry.key.clone()).min_by_key(|key| key.start)
        {
            return self.place(first);
        }
        self.place(entry.key.clone().unwrap_or_else(|| self.first_line(&entry.value)))
    }

    /// The place of a part of a text value, given by bytes of the value as it is read.
    ///
    /// Exact for every character but white space that YAML folds; the whole value where the path leads to no text.
    pub fn inside(&self, path: impl Into<Path>, span: &Range<usize>) -> Place {
        let path = self.in_file(&path.into());
        let Some(Entry { value, scalar: Some(Scalar { text, style }), .. }) = self.entries.get(&path) else {
            return self.value(path);
        };
        let Some(places) = scalar::spellings(&self.source.text[value.clone()], text, *style) else {
            return self.place(value.clone());
        };
        let behind = places.last().map_or(0, |last| last.end);
        let start = places.get(span.start).map_or(behind, |place| place.start);
        let last = span.end.checked_sub(1).filter(|&last| last >= span.start);
        let end = last.map_or(start, |last| places.get(last).map_or(behind, |place| place.end));
        self.place(value.start + start..value.start + end.max(start))
    }

    /// The fields of a mapping, in alphabetical order.
    pub fn keys_below(&self, path: impl Into<Path>) -> Vec<&str> {
        let path = self.in_file(&path.into());
        let below = self.entries.range(path.clone()..).map(|(inner, _)| inner).take_while(|inner| path.holds(inner));
        below.filter_map(|inner| path.child(inner)).collect()
    }

    /// A scalar with the words of the file: without quotes, numbers with all their digits.
    pub(super) fn words(&self, path: &Path) -> Option<&str> {
        self.entries.get(path).and_then(|entry| entry.scalar.as_ref()).map(|scalar| scalar.text.as_str())
    }

    /// The innermost part whose printed path, in the writing of `serde_yaml`, is the given one.
    pub(super) fn named(&self, printed: &str) -> Option<&Path> {
        let plainly = |path: &Path| {
            path.segments().iter().fold(String::new(), |text, segment| match segment {
                Segment::Index(index) => format!("{text}[{index}]"),
                Segment::Key(key) if text.is_empty() => key.clone(),
                Segment::Key(key) => format!("{text}.{key}"),
            })
        };
        self.entries.keys().find(|path| plainly(path) == printed)
    }

    /// The one part right below `path` whose own words are among those given; none where several are.
    pub(super) fn child_that_says(&self, path: &Path, words: &[&str]) -> Option<&Path> {
        let below = self.entries.keys().filter(|inner| inner.parent().as_ref() == Some(path));
        let mut saying = below.filter(|inner| self.words(inner).is_some_and(|said| words.contains(&said)));
        saying.next().filter(|_| saying.next().is_none())
    }

    /// The line, from a byte on, that a reader stopped in.
    pub(super) fn line_from(&self, byte: usize) -> Place {
        let start = self.source.boundary(byte);
        self.place(self.first_line(&(start..self.source.text.len())))
    }

    fn place(&self, span: Range<usize>) -> Place {
        Place::Text(Arc::clone(&self.source), span)
    }

    /// The path with numbers as keys where the file has a mapping.
    fn in_file(&self, path: &Path) -> Path {
        path.segments().iter().fold(Path::root(), |before, segment| match segment {
            Segment::Index(number) if self.entries.contains_key(&before.clone().key(number.to_string())) => {
                before.key(number.to_string())
            }
            Segment::Index(number) => before.index(*number),
            Segment::Key(name) => before.key(name),
        })
    }

    fn nearest(&self, wanted: Path) -> Option<(Path, &Entry)> {
        let mut wanted = self.in_file(&wanted);
        loop {
            if let Some(entry) = self.entries.get(&wanted) {
                return Some((wanted, entry));
            }
            wanted = wanted.parent()?;
        }
    }

    fn first_line(&self, span: &Range<usize>) -> Range<usize> {
        let text = &self.source.text[span.clone()];
        span.start..span.start + text.find(['\r', '\n']).unwrap_or(text.len())
    }
}

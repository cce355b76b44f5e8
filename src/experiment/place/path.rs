//! The way from the top of a YAML file to one of its parts. In: keys and places in lists. Out: the same, comparable and
//! printable as `tasks[3].number.answer`. It must not know whether such a part exists.

use std::fmt::{self, Display, Formatter};

/// One step of a path.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub enum Segment {
    /// An entry of a list, counted from 0.
    Index(usize),
    /// A field.
    Key(String),
}

/// The way to a part of a file; the empty path is the whole file.
#[derive(Debug, Clone, Default, PartialEq, Eq, PartialOrd, Ord)]
pub struct Path(Vec<Segment>);

impl Path {
    /// The whole file.
    pub fn root() -> Self {
        Self::default()
    }

    /// The path one field further.
    #[must_use]
    pub fn key(mut self, name: impl Into<String>) -> Self {
        self.0.push(Segment::Key(name.into()));
        self
    }

    /// The path one list entry further, counted from 0.
    #[must_use]
    pub fn index(mut self, index: usize) -> Self {
        self.0.push(Segment::Index(index));
        self
    }

    /// Its steps.
    pub fn segments(&self) -> &[Segment] {
        &self.0
    }

    /// The path one step shorter; none for the whole file.
    pub(super) fn parent(&self) -> Option<Self> {
        self.0.split_last().map(|(_, rest)| Self(rest.to_vec()))
    }

    /// The field right below `self` that `other` is, if it is one.
    pub(super) fn child<'a>(&self, other: &'a Self) -> Option<&'a str> {
        match other.0.strip_prefix(self.0.as_slice()) {
            Some([Segment::Key(name)]) => Some(name),
            _ => None,
        }
    }

    /// Whether `other` is this part or lies within it.
    pub(super) fn holds(&self, other: &Self) -> bool {
        other.0.starts_with(&self.0)
    }
}

impl FromIterator<Segment> for Path {
    fn from_iter<I: IntoIterator<Item = Segment>>(segments: I) -> Self {
        Self(segments.into_iter().collect())
    }
}

impl From<&Path> for Path {
    fn from(path: &Path) -> Self {
        path.clone()
    }
}

/// A key as a step of a JSON pointer (RFC 6901).
pub(crate) fn escape(key: &str) -> String {
    key.replace('~', "~0").replace('/', "~1")
}

/// Reads a JSON pointer (RFC 6901) such as `/tasks/3/number`; a number counts entries of a list, or is a key
/// where a mapping stands.
impl From<&str> for Path {
    fn from(pointer: &str) -> Self {
        let step = |step: &str| match step.parse::<usize>() {
            Ok(index) if index.to_string() == step => Segment::Index(index),
            _ => Segment::Key(step.replace("~1", "/").replace("~0", "~")),
        };
        pointer.split('/').skip(1).map(step).collect()
    }
}

impl From<String> for Path {
    fn from(pointer: String) -> Self {
        Self::from(pointer.as_str())
    }
}

impl From<&String> for Path {
    fn from(pointer: &String) -> Self {
        Self::from(pointer.as_str())
    }
}

impl Display for Path {
    fn fmt(&self, out: &mut Formatter<'_>) -> fmt::Result {
        for (position, segment) in self.0.iter().enumerate() {
            match segment {
                Segment::Index(index) => write!(out, "[{index}]")?,
                Segment::Key(name) => {
                    if position > 0 {
                        out.write_str(".")?;
                    }
                    let plain = !name.is_empty()
                        && name.chars().all(|sign| sign.is_alphanumeric() || matches!(sign, '_' | '-'));
                    if plain { out.write_str(name)? } else { write!(out, "{name:?}")? }
                }
            }
        }
        Ok(())
    }
}

//! Words that options take. In: a word of the command line. Out: what it stands for. Declarations only.

use clap::ValueEnum;

use crate::{class::Edition, press::Paper};

/// How many different sets of readings there are.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(in crate::commands) enum Versions {
    /// One for each student.
    Each,
    /// So many, shared.
    Shared(usize),
}

impl Versions {
    /// How many are shared; nothing where each student has readings of their own.
    pub(in crate::commands) fn shared(self) -> Option<usize> {
        match self {
            Self::Each => None,
            Self::Shared(count) => Some(count),
        }
    }
}

impl std::str::FromStr for Versions {
    type Err = String;

    fn from_str(text: &str) -> Result<Self, String> {
        match text.trim().parse() {
            Ok(count @ 1..=1000) => Ok(Self::Shared(count)),
            _ if text.trim().eq_ignore_ascii_case("each") => Ok(Self::Each),
            _ => Err("write `each`, or a number from 1 to 1000".to_owned()),
        }
    }
}

#[derive(Debug, Clone, Copy, ValueEnum)]
pub(in crate::commands) enum EditionWord {
    Support,
    Core,
    Extension,
}

impl From<EditionWord> for Edition {
    fn from(word: EditionWord) -> Self {
        match word {
            EditionWord::Support => Self::Support,
            EditionWord::Core => Self::Core,
            EditionWord::Extension => Self::Extension,
        }
    }
}

#[derive(Debug, Clone, Copy, ValueEnum)]
pub(in crate::commands) enum PaperWord {
    A4,
    Letter,
}

impl From<PaperWord> for Paper {
    fn from(word: PaperWord) -> Self {
        match word {
            PaperWord::A4 => Self::A4,
            PaperWord::Letter => Self::Letter,
        }
    }
}

#[derive(Debug, Clone, Copy, ValueEnum)]
pub(in crate::commands) enum SortWord {
    Name,
    Seat,
    Code,
}

#[derive(Debug, Clone, Copy, ValueEnum)]
pub(in crate::commands) enum FlavourWord {
    Plain,
    Accessible,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub(in crate::commands) enum FormatWord {
    Csv,
    Json,
}

//! What an answer was found to be. In: nothing. Out: the kinds of verdicts, with the words that files use.

use serde::Serialize;

/// A verdict on an answer.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Verdict {
    /// Right; all points of a rubric.
    Right,
    /// Right from the student's own earlier answers.
    FollowThrough,
    /// The number is right, the unit is not.
    Unit,
    /// Right, with too many or too few figures.
    Figures,
    /// Off by a power of ten.
    PowerOfTen,
    /// Wrong; not all points of a rubric.
    Wrong,
    /// No answer.
    None,
}

impl Verdict {
    /// All verdicts, the best first.
    pub const ALL: [Self; 7] =
        [Self::Right, Self::FollowThrough, Self::Unit, Self::Figures, Self::PowerOfTen, Self::Wrong, Self::None];

    /// The word that stands in files.
    pub fn word(self) -> &'static str {
        match self {
            Self::Right => "right",
            Self::FollowThrough => "follow-through",
            Self::Unit => "unit",
            Self::Figures => "figures",
            Self::PowerOfTen => "power-of-ten",
            Self::Wrong => "wrong",
            Self::None => "none",
        }
    }
}

/// What led to a verdict.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Why {
    /// Nothing more to say.
    Plain,
    /// The unit that the student had to name is missing.
    UnitMissing,
    /// The unit does not fit.
    UnitWrong,
    /// So many significant figures in place of those asked for.
    Figures {
        /// As typed.
        found: usize,
        /// As printed in the key.
        asked: usize,
    },
    /// The answer is so many powers of ten too large.
    Power(i32),
    /// The slip at this place of the task's list gives the number.
    Slip(usize),
    /// So many points of a rubric.
    Points(u32),
}

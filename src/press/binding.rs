//! How leaves are bound into a document. In: the teacher's wishes. Out: the same. It must not set a page.

/// How many sides of the paper are printed on.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub enum Sides {
    /// Both: inner margins are wide, and every leaf starts on an odd page.
    #[default]
    Both,
    /// One: the left margin is wide on every page, and no page is blank.
    One,
}

/// How leaves are bound.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub struct Binding {
    /// Printed sides.
    pub sides: Sides,
    /// Whether blank pages make all leaves of a document equally long, so that a copier can staple every so many pages.
    pub equal: bool,
}

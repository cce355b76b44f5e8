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

impl Binding {
    /// The pages that leaves of so many pages take with their blank ones.
    pub fn lengths(self, leaves: &[usize]) -> Vec<usize> {
        let even = |count: usize| if self.sides == Sides::Both { count.next_multiple_of(2) } else { count };
        let most = leaves.iter().copied().max().unwrap_or_default();
        let last = leaves.len().saturating_sub(1);
        let length = |(place, &count): (usize, &usize)| match (self.equal, place == last) {
            (true, _) => even(most),
            // Nothing needs to follow the last leaf.
            (false, true) => count,
            (false, false) => even(count),
        };
        leaves.iter().enumerate().map(length).collect()
    }
}

//! Which leaf lies on which plate. In: places of pages in a file as Typst writes it. Out: the same, from either side.
//! The pages of the volume come first, with what is the leaves' own; then the plates; then the type case.

use std::ops::Range;

/// The places of a file's pages, from 0.
#[derive(Debug, Default)]
pub(in crate::press) struct Imposition {
    /// How many pages the volume has.
    pub(in crate::press) pages: usize,
    /// The leaves that lie on plates, in order; all others have all of their content on their own pages.
    pub(in crate::press) leaves: Vec<Laid>,
    /// The pages of each plate.
    pub(in crate::press) plates: Vec<Range<usize>>,
    /// The page with the digits of all faces.
    pub(in crate::press) case: usize,
}

/// A leaf that lies on a plate.
#[derive(Debug)]
pub(in crate::press) struct Laid {
    /// Its first page in the volume.
    pub(in crate::press) first: usize,
    /// The place of its plate.
    pub(in crate::press) plate: usize,
    /// By block: what its texts say.
    pub(in crate::press) texts: Vec<Vec<String>>,
}

impl Imposition {
    /// The pages of the volume with those of the plate below.
    pub(super) fn pairs(&self, leaf: &Laid) -> impl Iterator<Item = (usize, usize)> + use<> {
        (leaf.first..).zip(self.plates[leaf.plate].clone())
    }

    /// The plate that a page is of.
    pub(super) fn plate_of(&self, page: usize) -> Option<usize> {
        self.plates.iter().position(|plate| plate.contains(&page))
    }
}

//! Binding. In: the set pages of one leaf after another. Out: one document. It must not change what a page shows.

use typst::{
    foundations::{Content, Smart},
    layout::{Frame, FrameKind, Point},
    model::{Document, DocumentInfo},
};
use typst_layout::{Page, PagedDocument};

use super::{
    Binding,
    relocate::Move,
    stamp::{Stamps, Unstampable},
};

/// Leaves bound so far.
#[derive(Default)]
pub(super) struct Volume {
    pages: Vec<Page>,
    info: Option<DocumentInfo>,
    leaves: Vec<usize>,
    numbers: usize,
}

impl Volume {
    /// Adds a leaf: its pages with their stamps, with their heads and feet (of the first page, of left ones, of right ones) and
    /// their numbers over them.
    ///
    /// # Errors
    /// If a page can't be stamped; nothing is added then.
    pub(super) fn add(
        &mut self,
        body: &PagedDocument,
        stamps: Option<Stamps<'_>>,
        margins: &PagedDocument,
        numbers: &PagedDocument,
    ) -> Result<(), Unstampable> {
        let mut to = Move::to(self.next_number()).stamping(stamps);
        let mut pages = Vec::with_capacity(body.pages().len());
        for (place, page) in body.pages().iter().enumerate() {
            let mut frame = to.frame(&page.frame)?;
            let over = [margins.pages().get(if place < 2 { place } else { 2 - place % 2 }), numbers.pages().get(place)];
            for layer in over.into_iter().flatten() {
                frame.push_frame(Point::zero(), Move::to(self.next_number()).frame(&layer.frame)?);
            }
            pages.push(Page { frame, ..page.clone() });
        }
        self.leaves.push(pages.len());
        self.pages.extend(pages);
        self.info.get_or_insert_with(|| body.info().clone());
        Ok(())
    }

    /// Names for the elements of one more frame; those of a body may reach over all its pages.
    fn next_number(&mut self) -> usize {
        self.numbers += 1;
        self.numbers
    }

    /// The document, and the pages of each leaf without blank ones.
    pub(super) fn bind(self, binding: Binding) -> (PagedDocument, Vec<usize>) {
        let lengths = binding.lengths(&self.leaves);
        let mut rest = self.pages.into_iter();
        let mut pages: Vec<Page> = Vec::new();
        for (&count, length) in self.leaves.iter().zip(lengths) {
            pages.extend(rest.by_ref().take(count));
            if let Some(blank) = pages.last().map(blank) {
                pages.extend(std::iter::repeat_n(blank, length - count));
            }
        }
        for (page, number) in pages.iter_mut().zip(1..) {
            page.number = number;
        }
        (PagedDocument::new(pages.into(), self.info.unwrap_or_default()), self.leaves)
    }
}

fn blank(like: &Page) -> Page {
    Page {
        frame: Frame::new(like.frame.size(), FrameKind::Hard),
        bleed: like.bleed,
        fill: Smart::Auto,
        numbering: None,
        supplement: Content::empty(),
        number: 0,
    }
}

//! Binding. In: the set pages of one leaf after another. Out: one document. It must not change what a page shows.
//!
//! Leaves whose bodies are equal but for their digits may be laid on a plate: the body then stands once, behind the volume's pages, on
//! which there is only what is the leaf's own, and `super::graft` puts both together when the file is written.

use typst::{
    foundations::{Content, Smart},
    layout::{Frame, FrameKind, Point},
    model::{Document, DocumentInfo},
};
use typst_layout::{Page, PagedDocument};

use super::{
    Binding,
    figures::Figures,
    graft::{Imposition, Laid},
    relocate::Move,
    spots::{Spot, spots},
    stamp::{Stamps, Unstampable},
};

/// What every leaf has of its own: on its first page, in every foot, in every head.
pub(super) const EVERYWHERE: usize = 3;

/// Leaves bound so far.
#[derive(Default)]
pub(super) struct Volume {
    leaves: Vec<Bound>,
    /// The bodies that several leaves share, with the numbers of their pages, by the names of the bodies.
    plates: Vec<(u128, Vec<Page>)>,
    info: Option<DocumentInfo>,
    numbers: usize,
}

/// The pages of a leaf.
struct Bound {
    /// With all their content; nothing for a leaf that lies on a plate for sure.
    full: Option<Vec<Page>>,
    /// For a plate, should other leaves have the same.
    laid: Option<OnPlate>,
}

/// A leaf for a plate.
struct OnPlate {
    /// The name of its body.
    plate: u128,
    /// By block: what its texts say.
    texts: Vec<Vec<String>>,
    pages: Vec<Page>,
}

/// What lies on a page beside its body.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Layer {
    /// What is the leaf's own.
    Own,
    /// Heads and feet, which are the same for many leaves.
    Margins,
    Both,
}

/// A bound volume.
pub(super) struct BoundVolume {
    /// Its pages, and behind them those that the imposition names.
    pub(super) document: PagedDocument,
    /// The pages of each leaf without blank ones.
    pub(super) leaves: Vec<usize>,
    /// Which leaves lie on plates; nothing if none does.
    pub(super) imposition: Option<Imposition>,
    /// The pages without those behind.
    pub(super) pages: usize,
}

/// The set parts of a leaf.
#[derive(Clone, Copy)]
pub(super) struct Parts<'a> {
    pub(super) body: &'a PagedDocument,
    /// What is the leaf's own, see `Leaf`.
    pub(super) own: Option<&'a PagedDocument>,
    /// Heads and feet of its pages.
    pub(super) margins: &'a PagedDocument,
}

impl Volume {
    /// Adds a leaf: its pages with their stamps, with their heads, feet and numbers.
    ///
    /// # Errors
    /// If a page can't be stamped; nothing is added then.
    pub(super) fn add(&mut self, parts: Parts<'_>, stamps: Option<Stamps<'_>>) -> Result<(), Unstampable> {
        let mut to = Move::to(self.next_number()).stamping(stamps);
        let frames = parts.body.pages().iter().map(|page| to.frame(&page.frame)).collect::<Result<Vec<_>, _>>()?;
        let full = Some(self.pages(frames, parts, Layer::Both));
        self.leaves.push(Bound { full, laid: None });
        self.info.get_or_insert_with(|| parts.body.info().clone());
        Ok(())
    }

    /// Whether a leaf was added whose body has this name.
    pub(super) fn has(&self, plate: u128) -> bool {
        self.leaves.iter().any(|leaf| leaf.laid.as_ref().is_some_and(|laid| laid.plate == plate))
    }

    /// Adds a leaf whose body another has as well.
    pub(super) fn lay(&mut self, plate: u128, texts: Vec<Vec<String>>, parts: Parts<'_>) {
        if !self.plates.iter().any(|(known, _)| *known == plate) {
            let mut to = Move::to(self.next_number());
            let frames = parts.body.pages().iter().map(|page| to.plain(&page.frame)).collect();
            let pages = self.pages(frames, parts, Layer::Margins);
            self.plates.push((plate, pages));
        }
        let laid = self.on_plate(plate, texts, parts);
        self.leaves.push(Bound { full: None, laid: Some(laid) });
    }

    /// Readies the leaf that was added last for a plate, should others have its body as well.
    pub(super) fn may_lie(&mut self, plate: u128, texts: Vec<Vec<String>>, parts: Parts<'_>) {
        let laid = self.on_plate(plate, texts, parts);
        if let Some(last) = self.leaves.last_mut() {
            last.laid = Some(laid);
        }
    }

    fn on_plate(&mut self, plate: u128, texts: Vec<Vec<String>>, parts: Parts<'_>) -> OnPlate {
        let bare = parts.body.pages().iter().map(|page| Frame::new(page.frame.size(), page.frame.kind())).collect();
        OnPlate { plate, texts, pages: self.pages(bare, parts, Layer::Own) }
    }

    /// Pages of frames with what the layer has of the rest. What is the student's own on the first page lies below all else, since it is
    /// read first; drawings and what is at the edge lie above.
    fn pages(&mut self, frames: Vec<Frame>, parts: Parts<'_>, layer: Layer) -> Vec<Page> {
        let mut pages = Vec::with_capacity(frames.len());
        let own = parts.own.filter(|_| layer != Layer::Margins).map_or(&[][..], |own| own.pages());
        let (own, drawings) = own.split_at(own.len().min(EVERYWHERE));
        let mut drawings = drawings.iter();
        for (place, (frame, like)) in frames.into_iter().zip(parts.body.pages()).enumerate() {
            let margins = parts.margins.pages().get(place);
            let mut whole = Frame::new(frame.size(), frame.kind());
            let first = own.first().filter(|_| place == 0);
            for page in first.into_iter().chain(margins.filter(|_| layer != Layer::Own)) {
                whole.push_frame(Point::zero(), Move::to(self.next_number()).plain(&page.frame));
            }
            whole.push_frame(Point::zero(), frame);
            for (spot, at) in margins.into_iter().chain([like]).flat_map(|page| spots(&page.frame)) {
                let page = match spot {
                    Spot::Foot => own.get(1),
                    Spot::Head => own.get(2),
                    Spot::Drawing => drawings.next(),
                };
                if let Some(page) = page {
                    whole.push_frame(at, Move::to(self.next_number()).plain(&page.frame));
                }
            }
            pages.push(Page { frame: whole, ..like.clone() });
        }
        pages
    }

    /// Names for the elements of one more frame; those of a body may reach over all its pages.
    fn next_number(&mut self) -> usize {
        self.numbers += 1;
        self.numbers
    }

    /// The document; `figures` are those of its stamps.
    pub(super) fn bind(mut self, binding: Binding, figures: Option<&Figures>) -> BoundVolume {
        let mut imposition = Imposition::default();
        let (mut pages, mut counts): (Vec<Page>, Vec<usize>) = (Vec::new(), Vec::new());
        let count =
            |leaf: &Bound| leaf.laid.as_ref().map(|laid| &laid.pages).or(leaf.full.as_ref()).map_or(0, Vec::len);
        let lengths = binding.lengths(&self.leaves.iter().map(count).collect::<Vec<_>>());
        for (leaf, length) in std::mem::take(&mut self.leaves).into_iter().zip(lengths) {
            let plate =
                leaf.laid.as_ref().and_then(|laid| self.plates.iter().position(|(name, _)| *name == laid.plate));
            let first = pages.len();
            match (plate, leaf.laid, leaf.full) {
                (Some(plate), Some(laid), _) => {
                    pages.extend(laid.pages);
                    imposition.leaves.push(Laid { first, plate, texts: laid.texts });
                }
                (_, _, full) => pages.extend(full.unwrap_or_default()),
            }
            counts.push(pages.len() - first);
            if let Some(blank) = pages.last().map(blank) {
                pages.resize_with(first + length, || blank.clone());
            }
        }
        let bound = pages.len();
        imposition.pages = bound;
        for (_, plate) in std::mem::take(&mut self.plates) {
            let first = pages.len();
            pages.extend(plate);
            imposition.plates.push(first..pages.len());
        }
        let case = figures
            .zip(pages.last())
            .map(|(figures, last)| Page { frame: figures.case(&pages[bound..]), ..blank(last) });
        imposition.case = pages.len();
        let laid = !imposition.leaves.is_empty();
        pages.extend(case.filter(|_| laid));
        for (page, number) in pages.iter_mut().zip(1..) {
            page.number = number;
        }
        BoundVolume {
            document: PagedDocument::new(pages.into(), self.info.unwrap_or_default()),
            leaves: counts,
            imposition: laid.then_some(imposition),
            pages: bound,
        }
    }
}

impl From<PagedDocument> for BoundVolume {
    /// A document that is no volume.
    fn from(document: PagedDocument) -> Self {
        let pages = document.pages().len();
        Self { document, leaves: Vec::new(), imposition: None, pages }
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

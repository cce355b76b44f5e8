//! Setting and writing. In: Typst source. Out: PDF or PNG in memory.
//! Warnings are errors. Typst recurses deeply, so it must only run on threads with large stacks.

use std::{
    cell::OnceCell,
    panic::{self, AssertUnwindSafe},
    thread,
};

use rayon::{ThreadPool, ThreadPoolBuilder};
use typst::utils::Scalar;
use typst_layout::PagedDocument;
use typst_render::RenderOptions;

use super::{
    Binding, Fonts, Leaf, PdfJob, PressError, Printed, Work,
    binder::{Binder, KEPT, SetLeaf},
    compile::compile,
    figures::{self, Figures},
    pdf::export,
    plates::Plates,
    volume::BoundVolume,
    world::Shelf,
};

const STACK_BYTES: usize = 32 << 20;
/// Points in an inch.
const POINTS: f64 = 72.0;

/// Sets pages.
#[derive(Debug, Clone, Copy)]
pub struct Press<'f> {
    pub(super) fonts: &'f Fonts,
    hands: usize,
    stamping: bool,
    /// Where equal bodies are kept; without, each leaf has its own.
    pub(super) plates: Option<&'f Plates>,
}

impl Default for Press<'_> {
    fn default() -> Self {
        Self::new()
    }
}

impl<'f> Press<'f> {
    /// A press with the fonts of the program; these and the templates are shared by all.
    pub fn new() -> Self {
        Self::with(Fonts::shipped())
    }

    /// A press with other fonts.
    pub fn with(fonts: &'f Fonts) -> Self {
        Self { fonts, hands: 1, stamping: true, plates: None }
    }

    /// The same with so many threads for the leaves of a volume. The bytes do not depend on it.
    #[must_use]
    pub fn by_hands(self, hands: usize) -> Self {
        Self { hands: hands.max(1), ..self }
    }

    /// The same for leaves of which many are equal but for their digits: what they share is set once, and written once a file.
    #[must_use]
    pub fn laying(self, plates: &'f Plates) -> Self {
        Self { plates: Some(plates), ..self }
    }

    /// The same without plates: each page has all of its content.
    fn leaf_by_leaf(&self) -> Self {
        Self { plates: None, ..*self }
    }

    /// The same with every digit set by Typst itself, for holding stamped pages against.
    #[must_use]
    pub fn outright(self) -> Self {
        Self { stamping: false, ..self }
    }

    /// The digits to stamp with; nothing where they may not stand for each other.
    pub(super) fn figures(&self) -> Option<&'f Figures> {
        self.fonts
            .figures(|| {
                let specimen = compile(figures::SPECIMEN.to_owned().into(), &mut Shelf::default(), self.fonts).ok()?;
                Figures::of(&specimen)
            })
            .filter(|_| self.stamping)
    }

    /// The document of a work, for looking into its frames.
    ///
    /// # Errors
    /// If Typst finds a fault or has a warning.
    pub fn document(&self, work: impl Into<Work>) -> Result<PagedDocument, PressError> {
        let work = work.into();
        let press = self.leaf_by_leaf();
        apart(|| press.set(work).map(|volume| volume.document))
    }

    /// A PDF of a work.
    ///
    /// # Errors
    /// If Typst finds a fault or has a warning, or the document misses what a standard demands.
    pub fn pdf(&self, work: impl Into<Work>, job: &PdfJob) -> Result<Printed, PressError> {
        let work = work.into();
        if self.plates.is_some() {
            // Should the file not be as expected, each page is written by itself.
            if let Some(printed) = self.file(work.clone(), job)? {
                return Ok(printed);
            }
        }
        self.leaf_by_leaf().file(work, job)?.ok_or(PressError::Stopped)
    }

    /// A PDF of a work; nothing if its leaves can't be laid on plates.
    fn file(&self, work: Work, job: &PdfJob) -> Result<Option<Printed>, PressError> {
        match work {
            Work::Volume(sources, binding) if self.hands > 1 && sources.len() > 1 => {
                let shares = self.shared_out(sources);
                apart(|| {
                    let mut binder = Binder::new(*self);
                    for share in shares {
                        share?.into_iter().try_for_each(|leaf| binder.add(leaf))?;
                    }
                    export(binder.bind(binding), job)
                })
            }
            work => apart(|| export(self.set(work)?, job)),
        }
    }

    /// Sets the leaves of a volume on several threads, in their order.
    fn shared_out(&self, leaves: Vec<Leaf>) -> Vec<Result<Vec<SetLeaf>, PressError>> {
        let share = leaves.len().div_ceil(self.hands);
        let mut rest = leaves.into_iter();
        let shares: Vec<Vec<Leaf>> = std::iter::from_fn(|| {
            let share: Vec<Leaf> = rest.by_ref().take(share).collect();
            (!share.is_empty()).then_some(share)
        })
        .collect();
        let set = |share: Vec<Leaf>| {
            apart(|| {
                let mut shelf = Shelf::default();
                let leaves = share.into_iter().enumerate();
                leaves.map(|(place, leaf)| SetLeaf::of(place, leaf, &mut shelf, *self)).collect()
            })
        };
        thread::scope(|scope| {
            let running: Vec<_> = shares.into_iter().map(|share| scope.spawn(|| set(share))).collect();
            running.into_iter().map(|one| one.join().unwrap_or(Err(PressError::Stopped))).collect()
        })
    }

    /// A PNG of each page of a work, at so many dots per inch.
    ///
    /// # Errors
    /// If Typst finds a fault or has a warning, or a picture can't be written.
    pub fn png(&self, work: impl Into<Work>, dots_per_inch: f64) -> Result<Vec<Vec<u8>>, PressError> {
        let options = RenderOptions { pixel_per_pt: Scalar::new(dots_per_inch / POINTS), ..RenderOptions::default() };
        let work = work.into();
        let press = self.leaf_by_leaf();
        apart(|| {
            let document = press.set(work)?.document;
            let picture = |page| typst_render::render(page, &options).encode_png();
            let pictures: Result<Vec<_>, _> = document.pages().iter().map(picture).collect();
            pictures.map_err(|fault| PressError::Picture(fault.to_string()))
        })
    }

    /// Sets a work and looks through Typst's cache whatever comes of it. The cache is shared by all threads: what was used
    /// of late stays, for the next volume and for those that other threads are at.
    fn set(&self, work: Work) -> Result<BoundVolume, PressError> {
        let result = match work {
            Work::Alone(script) => compile(script.plain(), &mut Shelf::default(), self.fonts).map(BoundVolume::from),
            Work::Volume(leaves, binding) => self.bind(leaves, binding),
        };
        comemo::evict(KEPT);
        result
    }

    /// Sets leaves one by one. What the next leaf may share with the last ones stays in Typst's cache.
    fn bind(&self, leaves: Vec<Leaf>, binding: Binding) -> Result<BoundVolume, PressError> {
        let mut shelf = Shelf::default();
        let mut binder = Binder::new(*self);
        for (place, leaf) in leaves.into_iter().enumerate() {
            binder.add(SetLeaf::of(place, leaf, &mut shelf, *self)?)?;
        }
        Ok(binder.bind(binding))
    }
}

thread_local! {
    /// A pool of one thread with a large stack for each thread that prints.
    static APART: OnceCell<ThreadPool> = const { OnceCell::new() };
}

/// Runs a job on a thread of its own with a large stack, which stays for the next job of the thread that asks. It is a pool of
/// one, so that what Typst and the PDF writer would hand to other threads stays on it: handing over costs more than it gains where every core
/// is at work, and a thread that waits can't begin another document on top of its own.
fn apart<T: Send>(job: impl FnOnce() -> Result<T, PressError> + Send) -> Result<T, PressError> {
    APART.with(|apart| {
        let pool = match apart.get() {
            Some(pool) => pool,
            None => {
                let pool = ThreadPoolBuilder::new().num_threads(1).stack_size(STACK_BYTES).build();
                let pool = pool.map_err(PressError::Thread)?;
                apart.get_or_init(|| pool)
            }
        };
        panic::catch_unwind(AssertUnwindSafe(|| pool.install(job))).unwrap_or(Err(PressError::Stopped))
    })
}

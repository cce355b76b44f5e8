//! Setting and writing. In: Typst source. Out: PDF or PNG in memory.
//! Warnings are errors. Typst recurses deeply, so it must only run on threads with large stacks.

use std::{
    collections::{HashMap, hash_map::Entry},
    panic::{self, AssertUnwindSafe},
    thread,
};

use rayon::ThreadPoolBuilder;
use typst::{
    World, WorldExt,
    diag::{SourceDiagnostic, Warned},
    foundations::{Datetime, Smart},
    utils::Scalar,
};
use typst_layout::PagedDocument;
use typst_pdf::{PdfOptions, PdfStandard, PdfStandards, Timestamp};
use typst_render::RenderOptions;

use super::{
    Binding, Fonts, Leaf, PressError, Script, Work,
    figures::{self, Figures},
    stamp::Stamps,
    volume::Volume,
    world::{DocumentWorld, Shelf},
};

const STACK_BYTES: usize = 32 << 20;
/// Leaves after which Typst's cache is looked through.
const EVICT_EVERY: usize = 10;
/// A source of so many bytes, such as a long table, fills the cache alone.
const LONG: usize = 50_000;
/// How many such looks an entry survives that nobody used: large print and other languages come once in a while.
const KEPT: usize = 2;
/// Points in an inch.
const POINTS: f64 = 72.0;
/// What the files name as their maker.
const CREATOR: &str = concat!(env!("CARGO_PKG_NAME"), " ", env!("CARGO_PKG_VERSION"));

/// Which standards a PDF must obey.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub enum Standards {
    /// PDF/UA-1 and PDF/A-2a together.
    #[default]
    Accessible,
    /// PDF 1.7 without tags: smaller files.
    Plain,
}

/// How to write a PDF.
#[derive(Debug, Clone, Default)]
pub struct PdfJob {
    /// Names the document for its file identifier: stable, and different for each document of a set.
    pub ident: String,
    /// The standards to obey.
    pub standards: Standards,
}

/// A written PDF.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Printed {
    /// The file.
    pub bytes: Vec<u8>,
    /// All its pages, blank ones included.
    pub pages: usize,
    /// Pages of each leaf of a volume, without blank ones.
    pub leaves: Vec<usize>,
}

/// Sets pages.
#[derive(Debug, Clone, Copy)]
pub struct Press<'f> {
    fonts: &'f Fonts,
    hands: usize,
    stamping: bool,
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

    /// Empties Typst's cache, for whoever needs the memory for something else.
    pub fn forget() {
        comemo::evict(0);
    }

    /// A press with other fonts.
    pub fn with(fonts: &'f Fonts) -> Self {
        Self { fonts, hands: 1, stamping: true }
    }

    /// The same with so many threads for the leaves of a volume. The bytes do not depend on it.
    #[must_use]
    pub fn by_hands(self, hands: usize) -> Self {
        Self { hands: hands.max(1), ..self }
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
        apart(|| self.set(work).map(|(document, _)| document))
    }

    /// A PDF of a work.
    ///
    /// # Errors
    /// If Typst finds a fault or has a warning, or the document misses what a standard demands.
    pub fn pdf(&self, work: impl Into<Work>, job: &PdfJob) -> Result<Printed, PressError> {
        match work.into() {
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
        apart(|| {
            let (document, _) = self.set(work)?;
            let picture = |page| typst_render::render(page, &options).encode_png();
            let pictures: Result<Vec<_>, _> = document.pages().iter().map(picture).collect();
            pictures.map_err(|fault| PressError::Picture(fault.to_string()))
        })
    }

    /// Sets a work and looks through Typst's cache whatever comes of it. The cache is shared by all threads: what was used
    /// of late stays, for the next volume and for those that other threads are at.
    fn set(&self, work: Work) -> Result<(PagedDocument, Vec<usize>), PressError> {
        let mut shelf = Shelf::default();
        let result = match work {
            Work::Alone(script) => {
                compile(script.plain(), &mut shelf, self.fonts).map(|document| (document, Vec::new()))
            }
            Work::Volume(leaves, binding) => self.bind(leaves, binding, &mut shelf),
        };
        comemo::evict(KEPT);
        result
    }

    /// Sets leaves one by one. What the next leaf may share with the last ones stays in Typst's cache.
    fn bind(
        &self,
        leaves: Vec<Leaf>,
        binding: Binding,
        shelf: &mut Shelf,
    ) -> Result<(PagedDocument, Vec<usize>), PressError> {
        let mut binder = Binder::new(*self);
        for (place, leaf) in leaves.into_iter().enumerate() {
            binder.add(SetLeaf::of(place, leaf, shelf, *self)?)?;
        }
        Ok(binder.bind(binding))
    }
}

/// A set document, and the pages of each of its leaves, as a file.
fn export((document, leaves): (PagedDocument, Vec<usize>), job: &PdfJob) -> Result<Printed, PressError> {
    let bytes = typst_pdf::pdf(&document, &options(job)?)
        .map_err(|faults| PressError::Pdf(faults.iter().map(|fault| fault.message.to_string()).collect()))?;
    Ok(Printed { bytes, pages: document.pages().len(), leaves })
}

/// Runs a job on a thread of its own with a large stack. The thread is a pool of one, so that what Typst and the PDF
/// writer would hand to other threads stays on it: handing over costs more than it gains where every core is at work,
/// and a thread that waits can't begin another document on top of its own.
fn apart<T: Send>(job: impl FnOnce() -> Result<T, PressError> + Send) -> Result<T, PressError> {
    let pool = ThreadPoolBuilder::new().num_threads(1).stack_size(STACK_BYTES).build().map_err(PressError::Thread)?;
    panic::catch_unwind(AssertUnwindSafe(|| pool.install(job))).unwrap_or(Err(PressError::Stopped))
}

/// A leaf with its pages set, but for their digits and numbers.
struct SetLeaf {
    /// Its source, should its pages not take stamps.
    script: Script,
    body: PagedDocument,
    /// By block: the texts whose digits are to be stamped in.
    texts: Vec<Vec<String>>,
    margins: PagedDocument,
    numbers: String,
}

impl SetLeaf {
    /// Sets the leaf at a place of its volume, after which the cache may be looked through.
    fn of(place: usize, leaf: Leaf, shelf: &mut Shelf, press: Press<'_>) -> Result<Self, PressError> {
        let long = leaf.body.main.len() > LONG;
        let (stencil, texts) = match press.figures() {
            Some(figures) => leaf.body.cut(figures),
            None => (leaf.body.plain(), Vec::new()),
        };
        let body = compile(stencil, shelf, press.fonts)?;
        let margins = compile(leaf.margins.into(), shelf, press.fonts)?;
        if long || place % EVICT_EVERY == EVICT_EVERY - 1 {
            comemo::evict(KEPT);
        }
        Ok(Self { script: leaf.body, body, texts, margins, numbers: leaf.numbers })
    }
}

/// Puts set leaves together, in order.
struct Binder<'f> {
    volume: Volume,
    /// Page numbers are the same for all leaves of a language and print with as many pages.
    numbered: HashMap<(String, usize), PagedDocument>,
    shelf: Shelf,
    press: Press<'f>,
}

impl<'f> Binder<'f> {
    fn new(press: Press<'f>) -> Self {
        Self { volume: Volume::default(), numbered: HashMap::new(), shelf: Shelf::default(), press }
    }

    fn add(&mut self, leaf: SetLeaf) -> Result<(), PressError> {
        let count = leaf.body.pages().len();
        let numbers = match self.numbered.entry((leaf.numbers, count)) {
            Entry::Occupied(entry) => entry.into_mut(),
            Entry::Vacant(entry) => {
                let pieces = vec![format!("#let count = {count}\n")];
                let script = Script { pieces, ..entry.key().0.clone().into() };
                let numbers = compile(script, &mut self.shelf, self.press.fonts)?;
                entry.insert(numbers)
            }
        };
        let stamps = self.press.figures().map(|figures| Stamps::new(figures, &leaf.texts));
        if self.volume.add(&leaf.body, stamps, &leaf.margins, numbers).is_ok() {
            return Ok(());
        }
        let body = compile(leaf.script.plain(), &mut self.shelf, self.press.fonts)?;
        self.volume.add(&body, None, &leaf.margins, numbers).map_err(|_| PressError::Stopped)
    }

    fn bind(self, binding: Binding) -> (PagedDocument, Vec<usize>) {
        self.volume.bind(binding)
    }
}

fn compile(script: Script, shelf: &mut Shelf, fonts: &Fonts) -> Result<PagedDocument, PressError> {
    let world = DocumentWorld::new(script, shelf, fonts).ok_or(PressError::Stopped)?;
    let Warned { output, warnings } = typst::compile::<PagedDocument>(&world);
    let tell =
        |faults: &[SourceDiagnostic]| PressError::Setting(faults.iter().map(|fault| told(&world, fault)).collect());
    let document = output.map_err(|faults| tell(&faults))?;
    if warnings.is_empty() { Ok(document) } else { Err(tell(&warnings)) }
}

/// A message of Typst with its place.
fn told(world: &DocumentWorld<'_>, fault: &SourceDiagnostic) -> String {
    let place = fault.span.id().and_then(|id| {
        let source = world.source(id).ok()?;
        let line = source.lines().byte_to_line(world.range(fault.span)?.start)?;
        Some(format!(" ({}, line {})", id.vpath().get_without_slash(), line + 1))
    });
    format!("{}{}", fault.message, place.unwrap_or_default())
}

fn options(job: &PdfJob) -> Result<PdfOptions, PressError> {
    let standards = match job.standards {
        Standards::Accessible => &[PdfStandard::Ua_1, PdfStandard::A_2a][..],
        Standards::Plain => &[PdfStandard::V_1_7],
    };
    Ok(PdfOptions {
        ident: Smart::Custom(job.ident.clone()),
        creator: Smart::Custom(Some(CREATOR.to_owned())),
        // PDF/A demands a date; the same source must give the same bytes on every day.
        timestamp: Datetime::from_ymd_hms(2000, 1, 1, 0, 0, 0).map(Timestamp::new_utc),
        page_ranges: None,
        standards: PdfStandards::new(standards).map_err(|fault| PressError::Pdf(vec![fault.message().to_string()]))?,
        tagged: job.standards == Standards::Accessible,
        pretty: false,
    })
}

//! The documents of a set as jobs for the press. In: a set's members. Out: files with their bytes and page counts.
//! It must hold no more than a volume of sources at a time.

use std::{
    collections::BTreeMap,
    io::{self, Write},
    sync::{
        Mutex, PoisonError,
        atomic::{AtomicUsize, Ordering},
    },
};

use super::{
    FolderError, Member, Order, Readings, SetPlan,
    job::{Job, spread},
    page_counts::PageCounts,
    volumes::{Count, VOLUME, stacks, volumes},
};
use crate::{
    compose::{self, Labels, View},
    press::{Binding, Documents, Leaf, Paper, PdfJob, Plates, Press, PressError, Printed, Sides, Standards, Work},
};

/// How documents are printed.
#[derive(Debug, Clone, Copy, Default)]
pub struct Printing {
    /// The paper.
    pub paper: Paper,
    /// The standards of the PDFs.
    pub standards: Standards,
    /// Whether each student gets a PDF as well.
    pub split: bool,
    /// How sheets are bound.
    pub binding: Binding,
    /// The order of the marking grid.
    pub order: Order,
}

/// Why a document was not printed.
#[derive(Debug, thiserror::Error)]
pub enum PrintingError {
    /// The press refused it.
    #[error("{file}: {fault}")]
    Press {
        /// The file.
        file: String,
        /// What the press said.
        fault: PressError,
    },
    /// The disk refused it.
    #[error(transparent)]
    Disk(#[from] FolderError),
}

/// A set at the press.
pub struct Print<'a> {
    pub(super) plan: &'a SetPlan<'a>,
    pub(super) members: &'a [Member<'a>],
    pub(super) printing: Printing,
    pub(super) documents: Documents,
    /// Bodies of sheets and of keys, which are equal for many students but for their digits.
    sheets: Plates,
    keys: Plates,
}

impl<'a> Print<'a> {
    /// Readies the templates.
    ///
    /// # Errors
    /// If a template is broken.
    pub fn new(plan: &'a SetPlan<'a>, members: &'a [Member<'a>], printing: Printing) -> Result<Self, PressError> {
        Ok(Self {
            plan,
            members,
            printing,
            documents: Documents::new()?.printed_on(printing.binding.sides),
            sheets: Plates::default(),
            keys: Plates::default(),
        })
    }

    /// Prints all documents on as many threads as there are cores and hands each to `keep` as it is done, with the number of
    /// sheets and keys in it.
    ///
    /// Gives the pages of each member's sheet. The bytes do not depend on the number of threads.
    ///
    /// # Errors
    /// The first fault, in the order of the jobs; the others are not printed.
    pub fn run(
        &self,
        keep: impl Fn(&str, &[u8], usize) -> Result<(), FolderError> + Sync,
    ) -> Result<Vec<usize>, PrintingError> {
        let jobs = self.jobs();
        let next = AtomicUsize::new(0);
        let pages = PageCounts::of(self.members.len());
        let faults: Mutex<Vec<(usize, PrintingError)>> = Mutex::new(Vec::new());
        let worker = || {
            let _watch = pages.watch();
            loop {
                let index = next.fetch_add(1, Ordering::Relaxed);
                let Some(job) = jobs.get(index) else { return };
                let kept = self.print(job, &pages).and_then(|printed| {
                    let Some(printed) = printed else { return Ok(()) };
                    if let Job::Worksheets(_, places) = job {
                        pages.note(places, &printed.leaves);
                    }
                    Ok(keep(&job.file(), &printed.bytes, job.leaves())?)
                });
                if let Err(fault) = kept {
                    next.store(jobs.len(), Ordering::Relaxed);
                    faults.lock().unwrap_or_else(PoisonError::into_inner).push((index, fault));
                    pages.give_up();
                }
            }
        };
        let threads = cores().min(jobs.len());
        std::thread::scope(|scope| {
            for _ in 1..threads {
                scope.spawn(worker);
            }
            worker();
        });
        let faults = faults.into_inner().unwrap_or_else(PoisonError::into_inner);
        match faults.into_iter().min_by_key(|(index, _)| *index) {
            Some((_, fault)) => Err(fault),
            None => Ok(pages.all().unwrap_or_default()),
        }
    }

    /// The long jobs first, so that no core waits at the end.
    fn jobs(&self) -> Vec<Job> {
        let all: Vec<usize> = (0..self.members.len()).collect();
        let count = Count::of_students(self.plan, all.len());
        let mut jobs: Vec<Job> =
            volumes("worksheets", &all, count).map(|(file, places)| Job::Worksheets(file, places)).collect();
        if self.shares_keys() {
            let shared = self.shared_keys();
            let count = Count::of(shared.len());
            jobs.extend(volumes("keys", &shared, count).map(|(file, places)| Job::SharedKeys(file, places)));
        } else {
            jobs.extend(volumes("keys", &all, count).map(|(file, places)| Job::Keys(file, places)));
        }
        if self.printing.split {
            for (index, member) in self.members.iter().enumerate() {
                jobs.push(Job::Worksheets(format!("students/{}-worksheet.pdf", member.code), vec![index]));
                jobs.push(Job::Keys(format!("students/{}-key.pdf", member.code), vec![index]));
            }
        }
        jobs.extend(self.plan.versions.map(|_| Job::VersionGrid));
        // Before anything is read there is nothing to mark.
        if self.plan.readings != Readings::Blank {
            let grids = stacks("grid", all.len()).into_iter().map(|(file, range)| Job::Grid(file, range));
            spread(&mut jobs, 0, grids.collect());
        }
        jobs.push(Job::Teacher);
        // They say where each sheet begins, so sheets come first.
        let sheets = jobs.iter().rposition(|job| matches!(job, Job::Worksheets(..))).map_or(0, |last| last + 1);
        let covers = stacks("cover", all.len()).into_iter().map(|(file, range)| Job::Cover(file, range));
        spread(&mut jobs, sheets, covers.collect());
        jobs
    }

    /// Threads for one volume of sheets: where there is only one, other cores would wait for it. Keys take one of them about as
    /// long, if each student has one.
    fn hands(&self) -> usize {
        let others = usize::from(!self.shares_keys());
        if self.members.len() > VOLUME || self.printing.split { 1 } else { (cores() - others).max(1) }
    }

    /// Whether students share keys.
    fn shares_keys(&self) -> bool {
        self.plan.versions.is_some() || self.plan.readings == Readings::Blank
    }

    /// A member for each different key, by version: what an edition asks, and the paper it is read from, make keys differ.
    pub(super) fn shared_keys(&self) -> Vec<usize> {
        let members = self.members.iter().enumerate();
        let keys: BTreeMap<_, usize> = members
            .rev()
            .map(|(place, member)| ((member.version, member.edition, member.student.large), place))
            .collect();
        keys.into_values().collect()
    }

    /// What the press is given for each document whose file is `wanted`, one after the other: for measuring what setting alone
    /// costs. Covers need the pages of all sheets.
    ///
    /// # Errors
    /// If a template can't be filled in.
    pub fn works<'w>(
        &'w self,
        pages: Option<&'w [usize]>,
        wanted: impl Fn(&str) -> bool + 'w,
    ) -> impl Iterator<Item = Result<(String, Work), PressError>> + 'w {
        let jobs = self.jobs().into_iter().filter(move |job| wanted(&job.file()));
        jobs.filter_map(move |job| Some(self.work(&job, pages)?.map(|work| (job.file(), work))))
    }

    /// A printed job; nothing for a cover whose sheets will not be printed.
    fn print(&self, job: &Job, pages: &PageCounts) -> Result<Option<Printed>, PrintingError> {
        let file = job.file();
        let pages = if matches!(job, Job::Cover(..)) { pages.all() } else { None };
        let Some(work) = self.work(job, pages.as_deref()) else { return Ok(None) };
        let press = Press::with(self.plan.fonts);
        let press = match job {
            Job::Worksheets(..) => press.by_hands(self.hands()).laying(&self.sheets),
            Job::Keys(..) => press.laying(&self.keys),
            _ => press,
        };
        let printed = work.and_then(|work| press.pdf(work, &self.pdf_job(&file)));
        printed.map(Some).map_err(|fault| PrintingError::Press { file, fault })
    }

    /// What the press is given; nothing for a cover as long as the pages of the sheets are not known.
    fn work(&self, job: &Job, pages: Option<&[usize]>) -> Option<Result<Work, PressError>> {
        let bound = |leaves| Work::Volume(leaves, self.printing.binding);
        Some(match job {
            Job::Worksheets(_, places) => self.leaves(places, View::Worksheet, false).map(bound),
            Job::Keys(_, places) => self.leaves(places, View::Key, false).map(bound),
            Job::SharedKeys(_, places) => self.leaves(places, View::Key, true).map(bound),
            Job::Grid(_, range) => {
                self.grid(range.clone()).map(|leaves| Work::Volume(leaves, Binding { sides: Sides::One, equal: false }))
            }
            Job::VersionGrid => self.version_grid().map(Work::from),
            Job::Teacher => self.teacher().map(Work::from),
            Job::Cover(_, range) => self.cover(range, pages?).map(Work::from),
        })
    }

    pub(super) fn pdf_job(&self, file: &str) -> PdfJob {
        let definition = &self.plan.experiment.definition;
        let ident = [&definition.id, self.plan.seed, &self.plan.roster.name, file].join("\u{1F}");
        PdfJob { ident, standards: self.printing.standards }
    }

    /// Writes the keys as plain text, in the order of the printed ones.
    ///
    /// # Errors
    /// Those of the writer.
    pub fn text_keys(&self, out: &mut dyn Write) -> io::Result<()> {
        let shared = self.shares_keys();
        let places = if shared { self.shared_keys() } else { (0..self.members.len()).collect() };
        for (place, &member) in places.iter().enumerate() {
            let member = &self.members[member];
            let own = member.own();
            let key = compose::text_key(&self.plan.facts(&own, self.plan.language), self.key_labels(member, shared));
            write!(out, "{}{key}", if place == 0 { "" } else { "\n" })?;
        }
        Ok(())
    }

    /// The pages of a member's sheet and of its key as pictures, at so many dots per inch.
    ///
    /// # Errors
    /// If the press refuses one of them.
    pub fn pictures(&self, place: usize, dots_per_inch: f64) -> Result<[Vec<Vec<u8>>; 2], PressError> {
        let picture = |view| Press::with(self.plan.fonts).png(self.leaves(&[place], view, false)?, dots_per_inch);
        Ok([picture(View::Worksheet)?, picture(View::Key)?])
    }

    pub(super) fn title(&self) -> String {
        self.plan.experiment.definition.title.printed_in(self.plan.language).into_owned()
    }

    /// What a key is told from others by; one that several share has neither name nor code.
    fn key_labels<'m>(&'m self, member: &'m Member<'_>, shared: bool) -> Labels<'m> {
        let labels = self.plan.labels(member);
        if shared { Labels { student: None, code: None, ..labels } } else { labels }
    }

    fn leaves(&self, places: &[usize], view: View, shared: bool) -> Result<Vec<Leaf>, PressError> {
        let title = self.title();
        let members = places.iter().map(|&place| &self.members[place]);
        members
            .map(|member| {
                // Keys are read by the teacher, sheets by the student.
                let language = if view == View::Key { self.plan.language } else { member.language };
                let labels = self.key_labels(member, shared);
                let sheet = compose::sheet(&self.plan.facts(&member.own(), language), labels, view);
                match view {
                    View::Worksheet => self.documents.worksheet(&title, &sheet, self.printing.paper),
                    View::Key => self.documents.key(&title, &sheet, self.printing.paper),
                }
            })
            .collect()
    }
}

fn cores() -> usize {
    std::thread::available_parallelism().map_or(1, usize::from)
}

//! A set document as a PDF. In: pages and a job. Out: bytes. It must write the same bytes on every day and machine.

use typst::foundations::{Datetime, Smart};
use typst_pdf::{PdfOptions, PdfStandard, PdfStandards, Timestamp};

use super::{PressError, graft::graft, volume::BoundVolume};

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

/// A bound volume as a file; nothing if its leaves can't be laid on their plates.
pub(super) fn export(volume: BoundVolume, job: &PdfJob) -> Result<Option<Printed>, PressError> {
    let bytes = typst_pdf::pdf(&volume.document, &options(job)?)
        .map_err(|faults| PressError::Pdf(faults.iter().map(|fault| fault.message.to_string()).collect()))?;
    let BoundVolume { document, leaves, imposition, pages } = volume;
    drop(document);
    let bytes = match imposition {
        None => Some(bytes),
        Some(imposition) => graft(bytes, &imposition),
    };
    Ok(bytes.map(|bytes| Printed { bytes, pages, leaves }))
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

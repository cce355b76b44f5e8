//! What can go wrong between a page as data and its file.

use thiserror::Error;

/// A fault of a template or of a text that reached one.
#[derive(Debug, Error)]
pub enum PressError {
    /// No word file for this language.
    #[error("no language `{0}`")]
    Language(String),
    /// A template could not be filled in.
    #[error("the template can't be filled in: {0}")]
    Template(#[from] minijinja::Error),
    /// The filled-in page could not be set; warnings count.
    #[error("the page can't be set: {}", .0.join("; "))]
    Setting(Vec<String>),
    /// The pages could not be written as PDF.
    #[error("the pages can't be written as PDF: {}", .0.join("; "))]
    Pdf(Vec<String>),
    /// A page could not be written as a picture.
    #[error("the page can't be written as a picture: {0}")]
    Picture(String),
    /// The machine refused a thread.
    #[error("no thread to set pages in")]
    Thread(#[source] rayon::ThreadPoolBuildError),
    /// The thread that set the pages ended without a result.
    #[error("setting the pages stopped halfway")]
    Stopped,
}

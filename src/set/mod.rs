//! Class sets. In: an experiment, a class, a seed. Out: members with their data, the record, files written whole.
//! It must word nothing.

mod folder;
mod folder_error;
mod form;
mod members;
mod printing;
mod record;
mod staging;

pub use folder::Folder;
pub use folder_error::FolderError;
pub use form::answers_csv;
pub use members::{Member, SetError, SetPlan};
pub use printing::{Print, Printing, PrintingError};
pub use record::{PROGRAM, record};

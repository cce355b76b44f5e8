//! Class sets. In: an experiment, a class, a seed. Out: members with their data, the record, files written whole.
//! It must word nothing.

mod expected;
mod folder;
mod folder_error;
mod form;
mod form_book;
mod grids;
mod job;
mod members;
mod notes;
mod own;
mod page_counts;
mod part;
mod placing;
mod plan;
mod printing;
mod readings_form;
mod record;
mod recorded;
mod runs;
mod stack;
mod staging;
mod volumes;

/// The name of a set's record, by which its folder is known.
pub const RECORD: &str = "set.json";

pub use folder::Folder;
pub use folder_error::FolderError;
pub use form::answers_csv;
pub use form_book::answers_xlsx;
pub use grids::Order;
pub use members::{Crowd, Draft, Held, Member, SetError};
pub use own::{Own, Packed, Packer};
pub use part::Part;
pub use placing::{Placed, Ticket, place};
pub use plan::SetPlan;
pub use printing::{Print, Printing, PrintingError};
pub use readings_form::{readings_csv, readings_xlsx};
pub use record::{PROGRAM, record};
pub use recorded::{Recorded, recorded};
pub use runs::Readings;

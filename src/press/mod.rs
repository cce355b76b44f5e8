//! From pages as data to PDF and PNG. In: sheets, keys, a grid, notes. Out: Typst source, then files in memory.
//! It must not compute or format a number, and never touch a disk or a network.

mod binder;
mod binding;
mod compile;
mod digits;
pub mod documents;
mod expression;
mod figures;
mod files;
mod fonts;
mod graft;
mod mosaic;
mod paper;
mod pdf;
mod plates;
mod press_error;
mod print;
mod relocate;
mod script;
mod spots;
mod stamp;
mod stencil;
mod volume;
mod world;

pub use binding::{Binding, Sides};
pub use documents::Documents;
pub(crate) use files::drawings;
pub use fonts::{Fonts, FontsError, covers};
pub use paper::Paper;
pub use pdf::{PdfJob, Printed, Standards};
pub use plates::Plates;
pub use press_error::PressError;
pub use print::Press;
pub use script::{Leaf, Script, Work};

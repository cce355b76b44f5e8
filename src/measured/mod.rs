//! Runs that were really read. In: files that people typed or a logger wrote. Out: runs with their readings in full, and variants
//! with the rows of the table. What can be used is used; what can't is told with its place. No reading may be made up.

mod columns;
mod comparison;
mod file;
mod number;
mod rows;
mod run;
mod settings;
mod sought;
mod stamp;
mod swapped;
mod thin;

pub use comparison::{ComparedColumn, Comparison, compare};
pub use file::{MeasuredFile, read};
pub use run::{MeasuredRow, MeasuredRun, Reading};
pub use settings::settings;
pub use sought::{Role, Sought, sought};
pub use swapped::swapped;
pub(crate) use thin::told;
pub use thin::variant;

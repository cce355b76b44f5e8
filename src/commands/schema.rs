//! `schema`: the definition format for editors. In: nothing. Out: a JSON Schema.

use super::{Console, Stop};
use crate::experiment;

pub(super) fn run(console: &mut Console<'_>) -> Result<(), Stop> {
    console.print(&format!("{:#}\n", experiment::schema()));
    Ok(())
}

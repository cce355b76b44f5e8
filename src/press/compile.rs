//! One document set by Typst. In: a script and fonts. Out: pages, or all that Typst says against it, warnings as well.
//! It must run on a thread with a large stack, since Typst recurses deeply.

use typst::{
    World, WorldExt,
    diag::{SourceDiagnostic, Warned},
};
use typst_layout::PagedDocument;

use super::{
    Fonts, PressError, Script,
    world::{DocumentWorld, Shelf},
};

/// The pages of a script.
///
/// # Errors
/// Every fault and warning with its place.
pub(super) fn compile(script: Script, shelf: &mut Shelf, fonts: &Fonts) -> Result<PagedDocument, PressError> {
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

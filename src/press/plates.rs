//! Bodies that leaves share. In: names of bodies. Out: their pages, set once as long as leaves with equal ones follow each other.
//! It must not hold many.

use std::sync::{Mutex, PoisonError};

use typst_layout::PagedDocument;

use super::PressError;

/// Bodies kept: editions, prints and languages, each in some forms with more digits or fewer.
const KEPT: usize = 24;

/// Bodies set of late. A press that is given plates sets equal bodies once, and writes them once a file.
#[derive(Debug, Default)]
pub struct Plates {
    /// By name, the one that was asked for last at the end.
    recent: Mutex<Vec<(u128, PagedDocument)>>,
}

impl Plates {
    /// The body of a name, set if it is not at hand.
    pub(super) fn find(
        &self,
        name: u128,
        set: impl FnOnce() -> Result<PagedDocument, PressError>,
    ) -> Result<PagedDocument, PressError> {
        if let Some(body) =
            self.with(|recent| recent.iter().position(|(known, _)| *known == name).map(|at| recent.remove(at)))
        {
            return Ok(self.put(name, body.1));
        }
        // Others may go on meanwhile, even if one of them sets the same.
        set().map(|body| self.put(name, body))
    }

    fn put(&self, name: u128, body: PagedDocument) -> PagedDocument {
        self.with(|recent| {
            recent.retain(|(known, _)| *known != name);
            if recent.len() == KEPT {
                recent.remove(0);
            }
            recent.push((name, body.clone()));
        });
        body
    }

    fn with<T>(&self, work: impl FnOnce(&mut Vec<(u128, PagedDocument)>) -> T) -> T {
        work(&mut self.recent.lock().unwrap_or_else(PoisonError::into_inner))
    }
}

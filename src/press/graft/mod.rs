//! Leaves laid over plates. In: a PDF as Typst writes it, in which what leaves share stands once, behind their pages. Out: the PDF in
//! which each leaf has all of it, with its own digits. It must not change what a page shows or means.
//!
//! What costs most when a class is printed is to write the same page for each student. Here it is written once: a page of a leaf takes
//! the streams of its plate beside its own, and only stretches with digits are made for each leaf. Elements of the structure and
//! items of the outline are copied, since each belongs to one page (ISO 32000-1, 14.7 and 12.3.3).

mod attributes;
mod case;
mod content;
mod cut;
mod element;
mod imposition;
mod outline;
mod pages;
mod store;
mod structure;
mod value;
mod written;

use std::collections::HashMap;

use hayro_syntax::Pdf;

pub(super) use imposition::{Imposition, Laid};
use pages::Pages;
use store::Store;
use structure::Structure;
use value::Value;

/// The volume; nothing if the file is not as Typst writes it, or does not hold what the imposition says.
pub(super) fn graft(file: Vec<u8>, imposition: &Imposition) -> Option<Vec<u8>> {
    let pdf = Pdf::new(file).ok()?;
    let mut store = Store::of(&pdf)?;
    let catalog = store.entries(store.catalog)?;
    // What else would lead to pages, or count them.
    if ["Names", "Dests", "PageLabels"].iter().any(|key| catalog.get(key).is_some()) {
        return None;
    }
    let root = catalog.reference("StructTreeRoot");
    let structure = match root {
        Some(root) => Some(Structure::of(&store, root, imposition)?),
        None => None,
    };
    let object = |page: usize| store.pages.get(page).copied();
    let pair = |(page, below)| Some((object(below)?, object(page)?));
    let pages: Vec<HashMap<i32, i32>> =
        imposition.leaves.iter().map(|leaf| imposition.pairs(leaf).map(pair).collect()).collect::<Option<_>>()?;
    let marks = |page| structure.as_ref().map_or(0, |structure| structure.marks(page));
    Pages::of(&store, imposition)?.lay(&mut store, marks)?;
    outline::bind(&mut store, imposition, &pages)?;
    if let Some(structure) = structure {
        structure.bind(&mut store, imposition, &pages)?;
    }
    trim(&mut store, imposition.pages)?;
    written::written(store)
}

/// Takes out the pages behind those of the volume.
fn trim(store: &mut Store<'_>, pages: usize) -> Option<()> {
    for page in store.pages.split_off(pages) {
        let content = store.content(page)?;
        store.drop(content);
        store.drop(page);
    }
    let kids = store.pages.iter().map(|page| Value::Ref(*page)).collect();
    let tree = store.tree()?;
    store.set(tree, "Kids", Value::List(kids))?;
    store.set(tree, "Count", Value::Whole(i32::try_from(pages).ok()?))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_no_file_or_has_other_pages_is_refused() {
        assert!(graft(b"no file".to_vec(), &Imposition::default()).is_none());
        let document = crate::press::Press::new().document("#set document(title: [A])\nA".to_owned()).expect("set");
        let file = typst_pdf::pdf(&document, &typst_pdf::PdfOptions::default()).expect("written");
        assert!(graft(file, &Imposition { pages: 1, case: 1, ..Imposition::default() }).is_none(), "no type case");
    }
}

//! The pages of a volume. In: a file whose plates lie behind the pages of the volume. Out: pages with the content of plates and the
//! leaves' own digits. It must not know what content means.

use std::{collections::HashMap, mem};

use super::{
    case::{Black, Case},
    cut::{BLACK, PREFIX, Piece, cut, stamped},
    imposition::Imposition,
    store::{Resources, Store},
    value::{Entries, Value},
};
use crate::press::digits::Digits;

/// Bytes of content from which leaves share a stream of their own: less costs more to name than to repeat.
const SHARED: usize = 1024;

/// A stretch of a plate's page.
enum Stretch {
    /// A stream that leaves share.
    Shared(i32),
    /// What each leaf has by itself.
    Own(Vec<Piece>),
}

/// The pages of plates, cut once.
pub(super) struct Pages<'a> {
    imposition: &'a Imposition,
    case: Case,
    /// By page, and by the marks before those of the plate.
    cut: HashMap<(usize, usize), Vec<Stretch>>,
    /// Resources of a page of the volume and of the plate below, with the object that holds both.
    resources: Vec<(Entries, usize, i32)>,
}

impl<'a> Pages<'a> {
    /// Reads the type case.
    pub(super) fn of(store: &Store<'_>, imposition: &'a Imposition) -> Option<Self> {
        let page = *store.pages.get(imposition.case)?;
        let case = Case::of(&store.unpacked(page)?, &store.resources(page)?)?;
        Some(Self { imposition, case, cut: HashMap::new(), resources: Vec::new() })
    }

    /// Lays the leaves over their plates. `marks` gives the marks on a page of the volume.
    pub(super) fn lay(mut self, store: &mut Store<'_>, marks: impl Fn(usize) -> usize) -> Option<()> {
        let imposition = self.imposition;
        for leaf in &imposition.leaves {
            let mut digits = Digits::of(&leaf.texts);
            for (page, below) in imposition.pairs(leaf) {
                let before = marks(page);
                if !self.cut.contains_key(&(below, before)) {
                    let stretches = self.stretches(store, below, before)?;
                    self.cut.insert((below, before), stretches);
                }
                let object = *store.pages.get(page)?;
                let mut contents = Vec::new();
                for stretch in self.cut.get(&(below, before))? {
                    let stream = match stretch {
                        Stretch::Shared(stream) => *stream,
                        Stretch::Own(pieces) => store.add_content(&stamped(pieces, &self.case, &mut digits)?)?,
                    };
                    contents.push(Value::Ref(stream));
                }
                // Drawings lie above the plate.
                contents.push(Value::Ref(store.content(object)?));
                store.set(object, "Contents", Value::List(contents))?;
                let resources = self.both(store, object, below)?;
                store.set(object, "Resources", Value::Ref(resources))?;
            }
        }
        Some(())
    }

    /// A page of a plate in stretches.
    fn stretches(&self, store: &mut Store<'_>, page: usize, before: usize) -> Option<Vec<Stretch>> {
        let object = *store.pages.get(page)?;
        // Links and the like would have to be laid as well.
        if store.entries(object)?.get("Annots").is_some() {
            return None;
        }
        let before = i32::try_from(before).ok()?;
        let pieces = cut(&store.unpacked(object)?, &store.resources(object)?, &self.case, before)?;
        let (mut stretches, mut own) = (Vec::new(), Vec::new());
        for piece in pieces {
            match piece {
                Piece::Same(content) if content.len() >= SHARED => {
                    if !own.is_empty() {
                        stretches.push(Stretch::Own(mem::take(&mut own)));
                    }
                    stretches.push(Stretch::Shared(store.add_content(&content)?));
                }
                piece => own.push(piece),
            }
        }
        if !own.is_empty() {
            stretches.push(Stretch::Own(own));
        }
        Some(stretches)
    }

    /// The resources of a page of the volume and of a page of a plate together.
    fn both(&mut self, store: &mut Store<'_>, page: i32, below: usize) -> Option<i32> {
        let Resources(own) = store.resources(page)?;
        if let Some((.., known)) = self.resources.iter().find(|(known, plate, _)| *plate == below && *known == own) {
            return Some(*known);
        }
        let mut both = own.clone();
        for (category, names) in store.resources(*store.pages.get(below)?)?.0.iter() {
            for (name, object) in names.entries().into_iter().flat_map(Entries::iter) {
                both.set_in(category, &format!("{PREFIX}{name}"), object.clone());
            }
        }
        if let Black::Space(space, _) = self.case.black {
            both.set_in("ColorSpace", BLACK, Value::Ref(space));
        }
        let object = store.add(Value::Entries(both));
        self.resources.push((own, below, object));
        Some(object)
    }
}

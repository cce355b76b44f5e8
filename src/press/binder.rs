//! Leaves set one by one and put together. In: sources of leaves. Out: one document.
//! What the next leaf may share with the last ones must stay in Typst's cache, and nothing else.

use std::collections::{HashMap, hash_map::Entry};

use typst::utils::hash128;
use typst_layout::PagedDocument;

use super::{
    Binding, Leaf, Press, PressError, Script,
    compile::compile,
    spots::spots,
    stamp::{Stamps, Unstampable},
    volume::{BoundVolume, EVERYWHERE, Parts, Volume},
    world::Shelf,
};

/// Leaves after which Typst's cache is looked through.
const EVICT_EVERY: usize = 5;
/// How many such looks an entry survives that nobody used: large print and other languages come once in a while.
pub(super) const KEPT: usize = 2;
/// A source of so many bytes, such as a long table, fills the cache alone.
const LONG: usize = 30_000;
/// How many looks an entry survives where each leaf fills the cache alone.
const KEPT_OF_LONG: usize = 1;

/// A leaf with its pages set, but for their digits and their heads and feet.
pub(super) struct SetLeaf {
    /// Its source, should its pages not take stamps.
    source: Leaf,
    /// The name of its body, the same for leaves that are equal but for their digits.
    plate: u128,
    body: PagedDocument,
    /// By block: the texts whose digits are to be stamped in; nothing where they are all set.
    texts: Option<Vec<Vec<String>>>,
    /// What is the student's own.
    own: Option<PagedDocument>,
}

impl SetLeaf {
    /// Sets the leaf at a place of its volume, after which the cache may be looked through.
    pub(super) fn of(place: usize, source: Leaf, shelf: &mut Shelf, press: Press<'_>) -> Result<Self, PressError> {
        let long = source.body.bytes() > LONG;
        let (script, texts) = if press.figures().is_some() {
            let (stencil, texts) = source.body.cut();
            (stencil, Some(texts))
        } else {
            (source.body.plain(), None)
        };
        let plate = hash128(&script);
        let mut fresh = false;
        let set = || {
            fresh = true;
            compile(script, shelf, press.fonts)
        };
        let body = match press.plates {
            Some(plates) => plates.find(plate, set)?,
            None => set()?,
        };
        let own = source.own.as_ref().map(|own| compile(own.plain(), shelf, press.fonts)).transpose()?;
        let drawings = own.as_ref().map_or(0, |own| own.pages().len().saturating_sub(EVERYWHERE));
        let room = body.pages().iter().flat_map(|page| spots(&page.frame)).count();
        if room != drawings {
            return Err(PressError::Setting(vec![format!("{drawings} drawings for {room} spots")]));
        }
        if long {
            comemo::evict(KEPT_OF_LONG);
        } else if fresh && place % EVICT_EVERY == EVICT_EVERY - 1 {
            comemo::evict(KEPT);
        }
        Ok(Self { source, plate, body, texts, own })
    }
}

/// Puts set leaves together, in order.
pub(super) struct Binder<'f> {
    volume: Volume,
    /// Heads and feet are the same for all leaves of an edition, language and print with as many pages.
    margins: HashMap<(String, usize), PagedDocument>,
    shelf: Shelf,
    press: Press<'f>,
}

impl<'f> Binder<'f> {
    /// With nothing bound so far.
    pub(super) fn new(press: Press<'f>) -> Self {
        Self { volume: Volume::default(), margins: HashMap::new(), shelf: Shelf::default(), press }
    }

    /// Adds a leaf; one whose pages take no stamps is set once more with all its digits.
    ///
    /// # Errors
    /// If Typst refuses the heads and feet of its pages, or the leaf with its digits.
    pub(super) fn add(&mut self, leaf: SetLeaf) -> Result<(), PressError> {
        let margins = self.margins(&leaf)?;
        let parts = Parts { body: &leaf.body, own: leaf.own.as_ref(), margins: &margins };
        let Some((figures, texts)) = self.press.figures().zip(leaf.texts) else {
            return self.volume.add(parts, None).map_err(|Unstampable| PressError::Stopped);
        };
        if self.press.plates.is_some() && self.volume.has(leaf.plate) {
            self.volume.lay(leaf.plate, texts, parts);
            return Ok(());
        }
        match self.volume.add(parts, Some(Stamps::new(figures, &texts))) {
            Ok(()) if self.press.plates.is_some() => self.volume.may_lie(leaf.plate, texts, parts),
            Ok(()) => {}
            Err(Unstampable) => {
                let outright = SetLeaf::of(0, leaf.source, &mut self.shelf, self.press.outright())?;
                self.add(outright)?;
            }
        }
        Ok(())
    }

    /// The heads and feet of a leaf's pages.
    fn margins(&mut self, leaf: &SetLeaf) -> Result<PagedDocument, PressError> {
        let count = leaf.body.pages().len();
        Ok(match self.margins.entry((leaf.source.margins.clone(), count)) {
            Entry::Occupied(entry) => entry.get().clone(),
            Entry::Vacant(entry) => {
                let script = Script::from(entry.key().0.clone()).counting(count);
                let margins = compile(script, &mut self.shelf, self.press.fonts)?;
                entry.insert(margins).clone()
            }
        })
    }

    /// The bound leaves.
    pub(super) fn bind(self, binding: Binding) -> BoundVolume {
        self.volume.bind(binding, self.press.figures())
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::press::figures::texts;

    #[test]
    fn a_leaf_that_takes_no_stamps_is_set_with_its_digits() {
        // A colour of its own, which means no text of the leaf.
        let pieces = vec!["#text(fill: rgb(9, 9, 9), \"12\")".to_owned()];
        let body = Script { pieces, ..Script::from("#include \"/pieces/0.typ\"".to_owned()) };
        let leaf = Leaf { body, own: None, margins: String::new() };
        let document = Press::new().document(leaf).expect("set");
        let texts = texts(&document.pages()[0].frame).into_iter().map(|item| item.text.as_str());
        assert_eq!(texts.collect::<Vec<_>>(), ["12"]);
    }
}

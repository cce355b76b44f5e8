//! The structure of a file: what its content means and in which order it is read. In: a file as Typst writes it. Out: the elements of
//! its pages, and those of plates once for each leaf. It must not change what an element means.

use std::{
    collections::{BTreeMap, HashMap},
    ops::Range,
    rc::Rc,
};

use super::{
    attributes::Attributes,
    element::Own,
    imposition::Imposition,
    store::Store,
    value::{Entries, Value},
};
use crate::press::digits::Digits;

/// The structure of a file.
pub(super) struct Structure {
    root: i32,
    document: i32,
    elements: Elements,
}

/// Elements by what leads to them.
struct Elements {
    /// Those right below the document, each behind its first page.
    kids: Vec<(usize, i32)>,
    /// By page: its key in the tree of parents, and the element of each of its marks.
    marks: BTreeMap<usize, (i32, Vec<Value>)>,
    /// Those that others name.
    ids: BTreeMap<Rc<[u8]>, Value>,
}

impl Structure {
    /// The structure of a file; nothing if it is not as Typst writes it.
    pub(super) fn of(store: &Store<'_>, root: i32, imposition: &Imposition) -> Option<Self> {
        let tree = store.entries(root)?;
        let document = tree.reference("K").or_else(|| tree.get("K")?.items().first()?.reference())?;
        let places: HashMap<i32, usize> = store.pages.iter().enumerate().map(|(place, page)| (*page, place)).collect();
        let mut kids = Vec::new();
        for kid in store.entries(document)?.get("K")?.items() {
            let kid = kid.reference()?;
            let mut pages = Vec::new();
            for element in family(store, kid)? {
                pages.extend(shown_on(store.entries(element)?).map(|page| places.get(&page)));
            }
            let pages: Vec<usize> = pages.into_iter().map(Option::<&usize>::copied).collect::<Option<_>>()?;
            let (first, last) = (*pages.iter().min()?, *pages.iter().max()?);
            // An element on a leaf and on a plate could be copied with neither.
            if imposition.plate_of(first) != imposition.plate_of(last) {
                return None;
            }
            kids.push((first, kid));
        }
        let nums = store.resolved(tree.get("ParentTree")?)?.entries()?.get("Nums")?.items();
        let parents: HashMap<i32, &Value> =
            nums.chunks(2).map(|pair| Some((pair.first()?.whole()?, pair.get(1)?))).collect::<Option<_>>()?;
        let mut marks = BTreeMap::new();
        for (place, page) in store.pages.iter().enumerate() {
            if let Some(key) = store.entries(*page)?.get("StructParents").and_then(Value::whole) {
                marks.insert(place, (key, store.resolved(parents.get(&key)?)?.items().to_vec()));
            }
        }
        let names = tree.get("IDTree").map(|ids| store.resolved(ids)?.entries()?.get("Names"));
        let names = names.flatten().map_or(&[][..], Value::items);
        let named = |pair: &[Value]| match pair {
            [Value::Text(name), element] => Some((name.clone(), element.clone())),
            _ => None,
        };
        let ids = names.chunks(2).map(named).collect::<Option<_>>()?;
        Some(Self { root, document, elements: Elements { kids, marks, ids } })
    }

    /// How many marks the content of a page has.
    pub(super) fn marks(&self, page: usize) -> usize {
        self.elements.marks(page)
    }

    /// Puts what the volume has in place of what the file had. `pages` gives for each leaf the page of the volume over each page of its
    /// plate.
    pub(super) fn bind(
        self,
        store: &mut Store<'_>,
        imposition: &Imposition,
        pages: &[HashMap<i32, i32>],
    ) -> Option<()> {
        let Self { root, document, elements } = self;
        let (mut volume, plates) = elements.parted(imposition.pages);
        let below: Vec<Vec<i32>> =
            imposition.plates.iter().map(|pages| plates.below(store, pages)).collect::<Option<_>>()?;
        let mut attributes = Attributes::default();
        below.iter().flatten().try_for_each(|element| attributes.share(store, *element))?;
        for (number, (leaf, pages)) in imposition.leaves.iter().zip(pages).enumerate() {
            let mut objects = pages.clone();
            objects.extend(below[leaf.plate].iter().map(|element| (*element, store.number())));
            let before = imposition.pairs(leaf).map(|(page, _)| (store.pages[page], volume.marks(page))).collect();
            let own = Own { number, digits: Digits::of(&leaf.texts), objects, before };
            for element in &below[leaf.plate] {
                let copy = own.element(store.entries(*element)?)?;
                store.objects.insert(*own.objects.get(element)?, Value::Entries(copy));
            }
            volume.lay(&plates, &own, imposition.pairs(leaf));
        }
        below.into_iter().flatten().for_each(|element| store.drop(element));
        // The tree of names still has those of plates.
        volume.ids.retain(|_, element| element.reference().is_some_and(|id| store.objects.contains_key(&id)));
        volume.put_into(store, root, document)
    }
}

impl Elements {
    fn marks(&self, page: usize) -> usize {
        self.marks.get(&page).map_or(0, |(_, marks)| marks.len())
    }

    /// Those of the first pages and those of all others; names stay with the first.
    fn parted(self, pages: usize) -> (Self, Self) {
        let (kids, others) = self.kids.into_iter().partition(|(page, _)| *page < pages);
        let (marks, other_marks) = self.marks.into_iter().partition(|(page, _)| *page < pages);
        let other_ids = self.ids.clone();
        (Self { kids, marks, ids: self.ids }, Self { kids: others, marks: other_marks, ids: other_ids })
    }

    /// All that have content on some pages, each before those below it.
    fn below(&self, store: &Store<'_>, pages: &Range<usize>) -> Option<Vec<i32>> {
        let kids = self.kids.iter().filter(|(page, _)| pages.contains(page));
        let families: Vec<Vec<i32>> = kids.map(|(_, kid)| family(store, *kid)).collect::<Option<_>>()?;
        Some(families.concat())
    }

    /// Adds what leads to a leaf's own elements. `pairs` are its pages with those of its plate.
    fn lay(&mut self, plates: &Self, own: &Own<'_>, pairs: impl Iterator<Item = (usize, usize)>) {
        for (page, below) in pairs {
            let here = plates.kids.iter().filter(|(first, _)| *first == below);
            self.kids.extend(here.filter_map(|(_, kid)| Some((page, *own.objects.get(kid)?))));
            if let Some((_, below)) = plates.marks.get(&below) {
                let free = self.free();
                let (_, marks) = self.marks.entry(page).or_insert_with(|| (free, Vec::new()));
                marks.extend(below.iter().map(|element| element.renamed(&own.objects)));
            }
        }
        let named = plates.ids.iter().filter_map(|(id, element)| Some((id, *own.objects.get(&element.reference()?)?)));
        self.ids.extend(named.map(|(id, element)| (own.id(id), Value::Ref(element))));
    }

    /// The first key that no page has.
    fn free(&self) -> i32 {
        self.marks.values().map(|(key, _)| key + 1).max().unwrap_or_default()
    }

    fn put_into(mut self, store: &mut Store<'_>, root: i32, document: i32) -> Option<()> {
        // In the order of pages; what is a leaf's own comes before what is its plate's.
        self.kids.sort_by_key(|(page, _)| *page);
        let kids = self.kids.iter().map(|(_, kid)| Value::Ref(*kid)).collect();
        store.set(document, "K", Value::List(kids))?;
        for (page, (key, _)) in &self.marks {
            store.set(store.pages[*page], "StructParents", Value::Whole(*key))?;
        }
        store.set(root, "ParentTreeNextKey", Value::Whole(self.free()))?;
        let mut nums: Vec<(i32, Vec<Value>)> = self.marks.into_values().collect();
        nums.sort_by_key(|(key, _)| *key);
        let nums = nums.into_iter().flat_map(|(key, marks)| [Value::Whole(key), Value::List(marks)]).collect();
        store.set(root, "ParentTree", holding("Nums", nums))?;
        if self.ids.is_empty() {
            return Some(());
        }
        let names = self.ids.into_iter().flat_map(|(name, element)| [Value::Text(name), element]).collect();
        store.set(root, "IDTree", holding("Names", names))
    }
}

fn holding(key: &str, list: Vec<Value>) -> Value {
    let mut entries = Entries::default();
    entries.set(key, Value::List(list));
    Value::Entries(entries)
}

/// An element with all below it.
fn family(store: &Store<'_>, element: i32) -> Option<Vec<i32>> {
    let mut all = vec![element];
    let kids = store.entries(element)?.get("K").map_or(&[][..], Value::items);
    for kid in kids.iter().filter_map(Value::reference) {
        all.extend(family(store, kid)?);
    }
    Some(all)
}

/// The pages that show content of an element itself.
fn shown_on(element: &Entries) -> impl Iterator<Item = i32> {
    let references = element.get("K").map_or(&[][..], Value::items).iter().filter_map(Value::entries);
    element.reference("Pg").into_iter().chain(references.filter_map(|reference| reference.reference("Pg")))
}

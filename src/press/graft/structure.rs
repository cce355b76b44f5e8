//! The structure of a file: what its content means and in which order it is read. In: a file as Typst writes it. Out: the elements of
//! its pages, and those of plates once more for each leaf. It must not change what an element means.

use std::collections::{BTreeMap, HashMap};

use super::{
    element::Own,
    imposition::Imposition,
    store::Store,
    value::{Entries, Value},
};
use crate::press::digits::Digits;

/// The elements of a file.
pub(super) struct Structure {
    root: i32,
    document: i32,
    /// The elements below the document, each with its first page.
    kids: Vec<(usize, i32)>,
    /// By page: its key in the tree of parents, and the element of each of its marks.
    marks: BTreeMap<usize, (i32, Vec<Value>)>,
    /// The elements that others name.
    ids: BTreeMap<Vec<u8>, Value>,
}

impl Structure {
    /// The elements of a file with a structure; nothing if they are not as Typst writes them.
    pub(super) fn of(store: &Store<'_>, root: i32, imposition: &Imposition) -> Option<Self> {
        let tree = store.entries(root)?;
        let document = tree.reference("K").or_else(|| tree.get("K")?.items().first()?.reference())?;
        let places: HashMap<i32, usize> = store.pages.iter().enumerate().map(|(place, page)| (*page, place)).collect();
        let mut kids = Vec::new();
        for kid in store.entries(document)?.get("K")?.items() {
            let kid = kid.reference()?;
            let mut pages = Vec::new();
            for element in elements(store, kid)? {
                pages.extend(shown_on(store.entries(element)?).map(|page| places.get(&page)));
            }
            let pages: Vec<usize> = pages.into_iter().map(Option::<&usize>::copied).collect::<Option<_>>()?;
            let (first, last) = (*pages.iter().min()?, *pages.iter().max()?);
            // An element on two leaves could belong to neither.
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
        Some(Self { root, document, kids, marks, ids })
    }

    /// How many marks the content of a page has.
    pub(super) fn marks(&self, page: usize) -> usize {
        self.marks.get(&page).map_or(0, |(_, marks)| marks.len())
    }

    /// Puts what the volume has in place of what the file had. `pages` gives for each leaf the page of the volume over each page of its
    /// plate.
    pub(super) fn bind(
        self,
        store: &mut Store<'_>,
        imposition: &Imposition,
        pages: &[HashMap<i32, i32>],
    ) -> Option<()> {
        let of_volume = |page: usize| page < imposition.pages;
        let mut kids: Vec<(usize, i32)> = self.kids.iter().copied().filter(|(page, _)| of_volume(*page)).collect();
        let mut marks: BTreeMap<usize, (i32, Vec<Value>)> =
            self.marks.iter().filter(|(page, _)| of_volume(**page)).map(|(page, one)| (*page, one.clone())).collect();
        let mut free = self.marks.values().map(|(key, _)| key + 1).max().unwrap_or_default();
        let gone = self.elements_of(store, |page| !of_volume(page))?;
        let mut ids = self.ids.clone();
        ids.retain(|_, element| element.reference().is_some_and(|element| !gone.contains(&element)));
        for (number, (leaf, pages)) in imposition.leaves.iter().zip(pages).enumerate() {
            let plate = &imposition.plates[leaf.plate];
            let elements = self.elements_of(store, |page| plate.contains(&page))?;
            let mut names = pages.clone();
            names.extend(elements.iter().map(|element| (*element, store.number())));
            let before = imposition.pairs(leaf).map(|(page, _)| (store.pages[page], self.marks(page)));
            let own = Own { number, digits: Digits::of(&leaf.texts), before: before.collect() };
            for element in &elements {
                let copy = own.element(store.entries(*element)?.renamed(&names))?;
                store.objects.insert(*names.get(element)?, Value::Entries(copy));
            }
            for (page, below) in imposition.pairs(leaf) {
                let here = self.kids.iter().filter(|(first, _)| *first == below);
                kids.extend(here.filter_map(|(_, kid)| Some((page, *names.get(kid)?))));
                let Some((_, below)) = self.marks.get(&below) else { continue };
                let (_, all) = marks.entry(page).or_insert_with(|| {
                    free += 1;
                    (free - 1, Vec::new())
                });
                all.extend(below.iter().map(|element| element.renamed(&names)));
            }
            let named = self.ids.iter().filter_map(|(id, element)| Some((id, *names.get(&element.reference()?)?)));
            ids.extend(named.map(|(id, element)| (own.id(id), Value::Ref(element))));
        }
        gone.into_iter().for_each(|element| store.drop(element));
        // In the order of pages; what is a leaf's own comes before what is its plate's.
        kids.sort_by_key(|(page, _)| *page);
        for (page, (key, _)) in &marks {
            store.set(store.pages[*page], "StructParents", Value::Whole(*key))?;
        }
        let kids = kids.into_iter().map(|(_, kid)| Value::Ref(kid)).collect();
        store.set(self.document, "K", Value::List(kids))?;
        let mut nums: Vec<(i32, Vec<Value>)> = marks.into_values().collect();
        nums.sort_by_key(|(key, _)| *key);
        let nums = nums.into_iter().flat_map(|(key, marks)| [Value::Whole(key), Value::List(marks)]).collect();
        store.set(self.root, "ParentTree", holding("Nums", nums))?;
        store.set(self.root, "ParentTreeNextKey", Value::Whole(free))?;
        if !ids.is_empty() {
            let names = ids.into_iter().flat_map(|(name, element)| [Value::Text(name), element]).collect();
            store.set(self.root, "IDTree", holding("Names", names))?;
        }
        Some(())
    }

    /// The elements on some pages, those around others before these.
    fn elements_of(&self, store: &Store<'_>, wanted: impl Fn(usize) -> bool) -> Option<Vec<i32>> {
        let kids = self.kids.iter().filter(|(page, _)| wanted(*page));
        let all: Vec<Vec<i32>> = kids.map(|(_, kid)| elements(store, *kid)).collect::<Option<_>>()?;
        Some(all.concat())
    }
}

fn holding(key: &str, list: Vec<Value>) -> Value {
    let mut entries = Entries::default();
    entries.set(key, Value::List(list));
    Value::Entries(entries)
}

/// An element with all below it, those around others before these.
fn elements(store: &Store<'_>, element: i32) -> Option<Vec<i32>> {
    let mut all = vec![element];
    let kids = store.entries(element)?.get("K").map_or(&[][..], Value::items);
    for kid in kids.iter().filter_map(Value::reference) {
        all.extend(elements(store, kid)?);
    }
    Some(all)
}

/// The pages that show content of an element itself.
fn shown_on(element: &Entries) -> impl Iterator<Item = i32> {
    let references = element.get("K").map_or(&[][..], Value::items).iter().filter_map(Value::entries);
    element.reference("Pg").into_iter().chain(references.filter_map(|reference| reference.reference("Pg")))
}

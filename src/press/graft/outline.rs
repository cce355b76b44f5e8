//! The outline of a file. In: a file as Typst writes it. Out: its items in the order of the volume's pages, those of plates once for
//! each leaf. It must not word an item.

use std::collections::HashMap;

use super::{imposition::Imposition, store::Store, value::Value};

/// Chains the items anew, those of plates once for each leaf. `pages` gives for each leaf the page of the volume over each page of
/// its plate.
pub(super) fn bind(store: &mut Store<'_>, imposition: &Imposition, pages: &[HashMap<i32, i32>]) -> Option<()> {
    let Some(root) = store.entries(store.catalog)?.reference("Outlines") else { return Some(()) };
    let places: HashMap<i32, usize> = store.pages.iter().enumerate().map(|(place, page)| (*page, place)).collect();
    let mut chain: Vec<(usize, i32)> = Vec::new();
    for item in below(store, root)? {
        let place = *places.get(&page(store, item)?)?;
        let Some(plate) = imposition.plate_of(place) else {
            chain.push((place, item));
            continue;
        };
        let all = family(store, item)?;
        for (leaf, pages) in imposition.leaves.iter().zip(pages).filter(|(leaf, _)| leaf.plate == plate) {
            let mut names = pages.clone();
            names.extend(all.iter().map(|object| (*object, store.number())));
            for object in &all {
                let copy = store.objects.get(object)?.renamed(&names);
                store.objects.insert(*names.get(object)?, copy);
            }
            chain.push((leaf.first + place - imposition.plates[plate].start, *names.get(&item)?));
        }
        all.into_iter().for_each(|object| store.drop(object));
    }
    chain.sort_by_key(|(place, _)| *place);
    let chain: Vec<i32> = chain.into_iter().map(|(_, item)| item).collect();
    for (at, &item) in chain.iter().enumerate() {
        let sides = [("Prev", at.checked_sub(1)), ("Next", Some(at + 1))];
        for (key, beside) in sides {
            match beside.and_then(|beside| chain.get(beside)) {
                Some(&beside) => store.set(item, key, Value::Ref(beside))?,
                None => store.unset(item, key)?,
            }
        }
    }
    store.set(root, "First", Value::Ref(*chain.first()?))?;
    store.set(root, "Last", Value::Ref(*chain.last()?))?;
    store.set(root, "Count", Value::Whole(i32::try_from(chain.len()).ok()?))
}

/// The items right below one.
fn below(store: &Store<'_>, item: i32) -> Option<Vec<i32>> {
    let mut found = Vec::new();
    let mut next = store.entries(item)?.reference("First");
    while let Some(item) = next {
        found.push(item);
        next = store.entries(item)?.reference("Next");
    }
    Some(found)
}

/// The page that an item leads to.
fn page(store: &Store<'_>, item: i32) -> Option<i32> {
    store.resolved(store.entries(item)?.get("Dest")?)?.items().first()?.reference()
}

/// An item and all below it, with their destinations.
fn family(store: &Store<'_>, item: i32) -> Option<Vec<i32>> {
    let mut all = vec![item];
    all.extend(store.entries(item)?.reference("Dest"));
    for item in below(store, item)? {
        all.extend(family(store, item)?);
    }
    Some(all)
}

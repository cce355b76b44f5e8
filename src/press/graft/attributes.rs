//! Attributes of a plate's elements. In: elements. Out: the same, with attributes in objects that all leaves share (ISO 32000-1,
//! 14.7.5). It must leave alone what names elements, which each leaf has of its own.

use std::collections::HashMap;

use pdf_writer::{Chunk, Ref};

use super::{store::Store, value::Value};

/// Objects of attributes by how they are written.
#[derive(Default)]
pub(super) struct Attributes {
    known: HashMap<Vec<u8>, i32>,
}

impl Attributes {
    /// Moves the attributes of an element into objects.
    pub(super) fn share(&mut self, store: &mut Store<'_>, element: i32) -> Option<()> {
        let shared = match store.entries(element)?.get("A") {
            None => return Some(()),
            Some(Value::List(all)) => {
                let all = all.clone();
                Value::List(all.into_iter().map(|one| self.shared(store, one)).collect())
            }
            Some(one) => {
                let one = one.clone();
                self.shared(store, one)
            }
        };
        store.set(element, "A", shared)
    }

    fn shared(&mut self, store: &mut Store<'_>, attributes: Value) -> Value {
        if attributes.entries().is_none_or(|entries| entries.get("Headers").is_some()) {
            return attributes;
        }
        let mut written = Chunk::new();
        attributes.write(written.indirect(Ref::new(1)));
        Value::Ref(*self.known.entry(written.as_bytes().to_vec()).or_insert_with(|| store.add(attributes)))
    }
}

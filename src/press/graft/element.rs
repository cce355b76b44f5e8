//! One element of a plate's structure. In: the element and a leaf. Out: the leaf's own. It must not look at other elements.

use std::{collections::HashMap, rc::Rc};

use super::value::{Entries, Value};
use crate::press::digits::Digits;

/// What makes elements a leaf's own.
pub(super) struct Own<'a> {
    /// The number of the leaf, which tells its elements' names from those of others.
    pub(super) number: usize,
    pub(super) digits: Digits<'a>,
    /// The leaf's pages and elements in place of those of the plate.
    pub(super) objects: HashMap<i32, i32>,
    /// By page of the leaf: the marks that come before the plate's.
    pub(super) before: HashMap<i32, usize>,
}

impl Own<'_> {
    /// The leaf's element for one of the plate.
    pub(super) fn element(&self, element: &Entries) -> Option<Entries> {
        let page = element.reference("Pg").and_then(|page| self.objects.get(&page).copied());
        element.mapped(|key, value| match (key, value) {
            (b"K", Value::List(kids)) => {
                kids.iter().map(|kid| self.kid(kid, page)).collect::<Option<_>>().map(Value::List)
            }
            (b"K", kid) => self.kid(kid, page),
            (b"ID", Value::Text(id)) => Some(Value::Text(self.id(id))),
            (b"A", Value::List(all)) => Some(Value::List(all.iter().map(|one| self.attributes(one)).collect())),
            (b"A", one) => Some(self.attributes(one)),
            (b"Alt", Value::Text(alt)) => {
                let words = read_text(alt).and_then(|signs| self.digits.spoken(&signs));
                Some(words.map_or_else(|| value.clone(), |words| Value::Words(words.to_owned())))
            }
            (_, other) => Some(other.renamed(&self.objects)),
        })
    }

    /// The name of an element.
    pub(super) fn id(&self, id: &[u8]) -> Rc<[u8]> {
        [id, format!("-{}", self.number).as_bytes()].concat().into()
    }

    /// A mark, with its page or on the page of its element, counted behind those of the leaf; elements by their names.
    fn kid(&self, kid: &Value, page: Option<i32>) -> Option<Value> {
        let counted = |mark: i32, page: Option<i32>| {
            let before = self.before.get(&page?)?;
            Some(Value::Whole(mark + i32::try_from(*before).ok()?))
        };
        match kid.renamed(&self.objects) {
            Value::Whole(mark) => counted(mark, page),
            Value::Entries(mut reference) => {
                if let Some(mark) = reference.get("MCID").and_then(Value::whole) {
                    let mark = counted(mark, reference.reference("Pg").or(page))?;
                    reference.set("MCID", mark);
                }
                Some(Value::Entries(reference))
            }
            other => Some(other),
        }
    }

    /// Attributes with the names of a cell's headers.
    fn attributes(&self, attributes: &Value) -> Value {
        let Some(headers) = attributes.entries().and_then(|entries| entries.get("Headers")) else {
            return attributes.clone();
        };
        let renamed = |header: &Value| match header {
            Value::Text(id) => Value::Text(self.id(id)),
            other => other.clone(),
        };
        let headers = Value::List(headers.items().iter().map(renamed).collect());
        let mut own = attributes.entries().cloned().unwrap_or_default();
        own.set("Headers", headers);
        Value::Entries(own)
    }
}

/// The words of a text string in UTF-16; nothing for others, which hold no signs of a stencil.
fn read_text(text: &[u8]) -> Option<String> {
    let units = text.strip_prefix(b"\xFE\xFF")?.chunks(2).map(|pair| Some(u16::from_be_bytes(pair.try_into().ok()?)));
    String::from_utf16(&units.collect::<Option<Vec<_>>>()?).ok()
}

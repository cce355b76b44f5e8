//! One element of a plate's structure. In: the element and a leaf. Out: the leaf's own. It must not look at other elements.

use std::collections::HashMap;

use super::value::{Entries, Value};
use crate::press::digits::Digits;

/// What makes elements a leaf's own.
pub(super) struct Own<'a> {
    /// The number of the leaf, which tells its elements' names from those of others.
    pub(super) number: usize,
    pub(super) digits: Digits<'a>,
    /// By page of the leaf: the marks that come before the plate's.
    pub(super) before: HashMap<i32, usize>,
}

impl Own<'_> {
    /// An element of a plate that refers to the leaf's pages and elements already.
    pub(super) fn element(&self, mut element: Entries) -> Option<Entries> {
        let page = element.reference("Pg");
        let kids = match element.get("K") {
            Some(Value::List(kids)) => {
                Some(Value::List(kids.iter().map(|kid| self.kid(kid, page)).collect::<Option<_>>()?))
            }
            Some(kid) => Some(self.kid(kid, page)?),
            None => None,
        };
        kids.into_iter().for_each(|kids| element.set("K", kids));
        if let Some(Value::Text(id)) = element.get("ID") {
            element.set("ID", Value::Text(self.id(id)));
        }
        let attributes = match element.get("A") {
            Some(Value::List(all)) => Some(Value::List(all.iter().map(|one| self.attributes(one)).collect())),
            one => one.map(|one| self.attributes(one)),
        };
        attributes.into_iter().for_each(|attributes| element.set("A", attributes));
        if let Some(Value::Text(alt)) = element.get("Alt")
            && let Some(words) = read_text(alt).and_then(|signs| self.digits.spoken(&signs))
        {
            element.set("Alt", Value::Words(words.to_owned()));
        }
        Some(element)
    }

    /// The name of an element.
    pub(super) fn id(&self, id: &[u8]) -> Vec<u8> {
        [id, format!("-{}", self.number).as_bytes()].concat()
    }

    /// A mark, with its page or on the page of its element, counted behind those of the leaf; other kids as they are.
    fn kid(&self, kid: &Value, page: Option<i32>) -> Option<Value> {
        let counted = |mark: i32, page: Option<i32>| {
            let before = self.before.get(&page?)?;
            Some(Value::Whole(mark + i32::try_from(*before).ok()?))
        };
        Some(match kid {
            Value::Whole(mark) => counted(*mark, page)?,
            Value::Entries(reference) => {
                let mut reference = reference.clone();
                if let Some(mark) = reference.get("MCID").and_then(Value::whole) {
                    let mark = counted(mark, reference.reference("Pg").or(page))?;
                    reference.set("MCID", mark);
                }
                Value::Entries(reference)
            }
            other => other.clone(),
        })
    }

    /// Attributes with the names of a cell's headers.
    fn attributes(&self, attributes: &Value) -> Value {
        let Value::Entries(entries) = attributes else { return attributes.clone() };
        let mut own = entries.clone();
        if let Some(headers) = entries.get("Headers") {
            let renamed = |header: &Value| match header {
                Value::Text(id) => Value::Text(self.id(id)),
                other => other.clone(),
            };
            own.set("Headers", Value::List(headers.items().iter().map(renamed).collect()));
        }
        Value::Entries(own)
    }
}

/// The words of a text string in UTF-16; nothing for others, which hold no signs of a stencil.
fn read_text(text: &[u8]) -> Option<String> {
    let units = text.strip_prefix(b"\xFE\xFF")?.chunks(2).map(|pair| Some(u16::from_be_bytes(pair.try_into().ok()?)));
    String::from_utf16(&units.collect::<Option<Vec<_>>>()?).ok()
}

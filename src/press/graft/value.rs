//! Objects of a PDF as values. In: objects as they are read. Out: the same to be written, with other references.
//! It must not know what an object means.

use std::{collections::HashMap, rc::Rc};

use hayro_syntax::object::{Dict, MaybeRef, ObjRef, Object};
use pdf_writer::{Name, Null, Obj, Ref, Str, TextStr};

/// An object without the data of streams. Generations are always 0. What is written once for each leaf is copied often, so that names
/// and texts are shared.
#[derive(Debug, Clone, PartialEq)]
pub(super) enum Value {
    Null,
    Flag(bool),
    Whole(i32),
    Real(f32),
    Name(Rc<[u8]>),
    Text(Rc<[u8]>),
    /// A text that is to be written as words.
    Words(String),
    Ref(i32),
    List(Vec<Value>),
    Entries(Entries),
}

/// The entries of a dictionary, in the order of their keys.
#[derive(Debug, Clone, PartialEq, Default)]
pub(super) struct Entries(Vec<(Rc<[u8]>, Value)>);

impl Value {
    /// An object as it was read; of a stream its dictionary.
    pub(super) fn of(object: Object<'_>) -> Self {
        match object {
            Object::Null(_) => Self::Null,
            Object::Boolean(flag) => Self::Flag(flag),
            Object::Number(number) => {
                let (real, whole) = (number.as_f64(), number.as_i64());
                match i32::try_from(whole) {
                    Ok(whole) if f64::from(whole) == real => Self::Whole(whole),
                    _ => Self::Real(number.as_f32()),
                }
            }
            Object::String(text) => Self::Text(text.as_bytes().into()),
            Object::Name(name) => Self::Name(name.as_ref().into()),
            Object::Dict(entries) => Self::Entries(Entries::of(&entries)),
            Object::Stream(stream) => Self::Entries(Entries::of(stream.dict())),
            Object::Array(items) => Self::List(items.raw_iter().map(Self::either).collect()),
        }
    }

    fn either(item: MaybeRef<Object<'_>>) -> Self {
        match item {
            MaybeRef::Ref(ObjRef { obj_number, .. }) => Self::Ref(obj_number),
            MaybeRef::NotRef(object) => Self::of(object),
        }
    }

    pub(super) fn name(name: &str) -> Self {
        Self::Name(name.as_bytes().into())
    }

    pub(super) fn reference(&self) -> Option<i32> {
        if let Self::Ref(id) = self { Some(*id) } else { None }
    }

    pub(super) fn whole(&self) -> Option<i32> {
        if let Self::Whole(number) = self { Some(*number) } else { None }
    }

    /// The items of a list; anything else is its own only item.
    pub(super) fn items(&self) -> &[Self] {
        if let Self::List(items) = self { items } else { std::slice::from_ref(self) }
    }

    pub(super) fn entries(&self) -> Option<&Entries> {
        if let Self::Entries(entries) = self { Some(entries) } else { None }
    }

    /// The value with other references.
    pub(super) fn renamed(&self, names: &HashMap<i32, i32>) -> Self {
        match self {
            Self::Ref(id) => Self::Ref(*names.get(id).unwrap_or(id)),
            Self::List(items) => Self::List(items.iter().map(|item| item.renamed(names)).collect()),
            Self::Entries(entries) => Self::Entries(entries.renamed(names)),
            other => other.clone(),
        }
    }

    pub(super) fn write(&self, out: Obj<'_>) {
        match self {
            Self::Null => out.primitive(Null),
            Self::Flag(flag) => out.primitive(*flag),
            Self::Whole(number) => out.primitive(*number),
            Self::Real(number) => out.primitive(*number),
            Self::Name(name) => out.primitive(Name(name)),
            Self::Text(text) => out.primitive(Str(text)),
            Self::Words(words) => out.primitive(TextStr(words)),
            Self::Ref(id) => out.primitive(Ref::new(*id)),
            Self::List(items) => {
                let mut list = out.array();
                items.iter().for_each(|item| item.write(list.push()));
            }
            Self::Entries(entries) => {
                entries.write(&mut out.dict());
            }
        }
    }
}

impl Entries {
    fn of(dict: &Dict<'_>) -> Self {
        Self(dict.entries().map(|(key, value)| (key.as_ref().into(), Value::either(value))).collect())
    }

    pub(super) fn get(&self, key: &str) -> Option<&Value> {
        self.0.iter().find(|(known, _)| **known == *key.as_bytes()).map(|(_, value)| value)
    }

    /// The reference that stands under a key.
    pub(super) fn reference(&self, key: &str) -> Option<i32> {
        self.get(key)?.reference()
    }

    /// Puts a value under a key in place of what stood there.
    pub(super) fn set(&mut self, key: &str, value: Value) {
        self.remove(key);
        let at = self.0.partition_point(|(known, _)| **known < *key.as_bytes());
        self.0.insert(at, (key.as_bytes().into(), value));
    }

    /// Puts a value under a key of the dictionary that stands under a category.
    pub(super) fn set_in(&mut self, category: &str, key: &str, value: Value) {
        let mut entries = match self.remove(category) {
            Some(Value::Entries(entries)) => entries,
            _ => Self::default(),
        };
        entries.set(key, value);
        self.set(category, Value::Entries(entries));
    }

    pub(super) fn remove(&mut self, key: &str) -> Option<Value> {
        let at = self.0.iter().position(|(known, _)| **known == *key.as_bytes())?;
        Some(self.0.remove(at).1)
    }

    pub(super) fn iter(&self) -> impl Iterator<Item = (&str, &Value)> {
        self.0.iter().filter_map(|(key, value)| Some((std::str::from_utf8(key).ok()?, value)))
    }

    /// The same keys with other values; nothing if there is none for one of them.
    pub(super) fn mapped(&self, mut value: impl FnMut(&[u8], &Value) -> Option<Value>) -> Option<Self> {
        self.0.iter().map(|(key, old)| Some((Rc::clone(key), value(key, old)?))).collect::<Option<_>>().map(Self)
    }

    pub(super) fn renamed(&self, names: &HashMap<i32, i32>) -> Self {
        Self(self.0.iter().map(|(key, value)| (Rc::clone(key), value.renamed(names))).collect())
    }

    pub(super) fn write(&self, out: &mut pdf_writer::Dict<'_>) {
        self.0.iter().for_each(|(key, value)| value.write(out.insert(Name(key))));
    }
}

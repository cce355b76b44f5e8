//! The objects of a file. In: a PDF as Typst writes it. Out: its objects and pages, to be changed, added to and written again.
//! It must not know what an object means.

use std::{borrow::Cow, collections::BTreeMap, io::Write};

use flate2::{Compression, write::ZlibEncoder};
use hayro_syntax::{
    Pdf,
    object::{Object, ObjectIdentifier, Stream},
};

use super::value::{Entries, Value};

/// A file in memory with its objects by their numbers.
pub(super) struct Store<'a> {
    pdf: &'a Pdf,
    pub(super) objects: BTreeMap<i32, Value>,
    /// The data of streams as they lie in the file.
    pub(super) streams: BTreeMap<i32, Cow<'a, [u8]>>,
    pub(super) catalog: i32,
    /// What the file says of itself, beside its XMP.
    pub(super) info: i32,
    /// The pages in order.
    pub(super) pages: Vec<i32>,
    /// The first number that no object has.
    free: i32,
    /// Kept, since readying one takes as long as packing a page.
    packer: ZlibEncoder<Vec<u8>>,
}

/// The resources of a page.
pub(super) struct Resources(pub(super) Entries);

impl Resources {
    /// The object behind a name of a category.
    pub(super) fn get(&self, category: &str, name: &[u8]) -> Option<i32> {
        self.0.get(category)?.entries()?.reference(std::str::from_utf8(name).ok()?)
    }
}

impl<'a> Store<'a> {
    /// The objects of a file; nothing if one of them can't be read.
    pub(super) fn of(pdf: &'a Pdf) -> Option<Self> {
        let (mut objects, mut streams) = (BTreeMap::new(), BTreeMap::new());
        for number in 1..=i32::try_from(pdf.len()).ok()? {
            let Some(object) = pdf.xref().get::<Object<'a>>(ObjectIdentifier::new(number, 0)) else { continue };
            if let Object::Stream(stream) = &object {
                streams.insert(number, stream.raw_data());
            }
            objects.insert(number, Value::of(object));
        }
        let catalog = pdf.xref().root_id().obj_number;
        let says = |value: &Value| value.entries().is_some_and(|entries| entries.get("CreationDate").is_some());
        let info = objects.iter().find(|(_, value)| says(value)).map(|(number, _)| *number)?;
        let free = objects.keys().next_back().map_or(1, |last| last + 1);
        let packer = ZlibEncoder::new(Vec::new(), Compression::default());
        let mut store = Self { pdf, objects, streams, catalog, info, pages: Vec::new(), free, packer };
        let tree = store.entries(store.tree()?)?;
        store.pages = tree.get("Kids")?.items().iter().map(Value::reference).collect::<Option<_>>()?;
        let flat = store.pages.iter().all(|&page| store.entries(page).is_some_and(|page| page.get("Kids").is_none()));
        flat.then_some(store)
    }

    /// The root of the tree of pages.
    pub(super) fn tree(&self) -> Option<i32> {
        self.entries(self.catalog)?.reference("Pages")
    }

    /// The dictionary with a number.
    pub(super) fn entries(&self, number: i32) -> Option<&Entries> {
        self.objects.get(&number)?.entries()
    }

    /// A value, or what it refers to.
    pub(super) fn resolved<'v>(&'v self, value: &'v Value) -> Option<&'v Value> {
        match value {
            Value::Ref(number) => self.objects.get(number),
            value => Some(value),
        }
    }

    /// The object with the content of a page.
    pub(super) fn content(&self, page: i32) -> Option<i32> {
        self.entries(page)?.reference("Contents")
    }

    /// The content of a page, unpacked.
    pub(super) fn unpacked(&self, page: i32) -> Option<Vec<u8>> {
        let stream = self.pdf.xref().get::<Stream<'_>>(ObjectIdentifier::new(self.content(page)?, 0))?;
        stream.decoded().ok().map(Cow::into_owned)
    }

    /// The resources of a page.
    pub(super) fn resources(&self, page: i32) -> Option<Resources> {
        self.resolved(self.entries(page)?.get("Resources")?)?.entries().cloned().map(Resources)
    }

    /// A number for a new object.
    pub(super) fn number(&mut self) -> i32 {
        self.free += 1;
        self.free - 1
    }

    /// Adds an object.
    pub(super) fn add(&mut self, value: Value) -> i32 {
        let number = self.number();
        self.objects.insert(number, value);
        number
    }

    /// Adds a stream of content, to stand before another of the same page.
    pub(super) fn add_content(&mut self, content: &[u8]) -> Option<i32> {
        // The streams of a page are read as one, in which words must stay apart.
        self.packer.write_all(content).and_then(|()| self.packer.write_all(b"\n")).ok()?;
        let packed = self.packer.reset(Vec::with_capacity(content.len() / 2)).ok()?;
        let mut entries = Entries::default();
        entries.set("Filter", Value::name("FlateDecode"));
        let number = self.add(Value::Entries(entries));
        self.streams.insert(number, Cow::Owned(packed));
        Some(number)
    }

    /// Takes an object out.
    pub(super) fn drop(&mut self, number: i32) {
        self.objects.remove(&number);
        self.streams.remove(&number);
    }

    /// Puts a value into a dictionary.
    pub(super) fn set(&mut self, number: i32, key: &str, value: Value) -> Option<()> {
        let Value::Entries(entries) = self.objects.get_mut(&number)? else { return None };
        entries.set(key, value);
        Some(())
    }

    /// Takes a value out of a dictionary.
    pub(super) fn unset(&mut self, number: i32, key: &str) -> Option<()> {
        let Value::Entries(entries) = self.objects.get_mut(&number)? else { return None };
        entries.remove(key);
        Some(())
    }
}

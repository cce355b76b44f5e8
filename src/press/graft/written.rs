//! A file written from its objects. In: objects. Out: bytes. The same objects must give the same bytes.

use std::ops::Range;

use pdf_writer::{Chunk, Finish, Pdf, Ref, Settings};
use sha2::{Digest, Sha256};

use super::{store::Store, value::Value};

/// The bytes of a file.
pub(super) fn written(store: Store<'_>) -> Option<Vec<u8>> {
    let metadata = store.entries(store.catalog)?.reference("Metadata")?;
    let mut pdf = Pdf::with_settings(Settings { pretty: false });
    let apart = [store.catalog, store.info, metadata];
    for (number, value) in store.objects.iter().filter(|(number, _)| !apart.contains(number)) {
        put(&mut pdf, *number, value, store.streams.get(number).map(AsRef::as_ref));
    }
    // Two volumes that differ in digits alone are two files.
    let instance: String = Sha256::digest(pdf.as_bytes()).iter().take(16).map(|byte| format!("{byte:02x}")).collect();
    let mut xmp = String::from_utf8(store.streams.get(&metadata)?.to_vec()).ok()?;
    let document = xmp[inside(&xmp, "xmpMM:DocumentID")?].to_owned();
    xmp.replace_range(inside(&xmp, "xmpMM:InstanceID")?, &instance);
    xmp.replace_range(inside(&xmp, "xmpTPg:NPages")?, &store.pages.len().to_string());
    put(&mut pdf, metadata, store.objects.get(&metadata)?, Some(xmp.as_bytes()));
    store.entries(store.info)?.write(&mut pdf.document_info(Ref::new(store.info)));
    let mut catalog = store.entries(store.catalog)?.clone();
    catalog.remove("Type");
    catalog.write(&mut pdf.catalog(Ref::new(store.catalog)));
    pdf.set_file_id((document.into_bytes(), instance.into_bytes()));
    Some(pdf.finish())
}

/// Writes an object. A stream's length comes with its data.
fn put(chunk: &mut Chunk, number: i32, value: &Value, data: Option<&[u8]>) {
    match (value, data) {
        (Value::Entries(entries), Some(data)) => {
            let mut stream = chunk.stream(Ref::new(number), data);
            let mut entries = entries.clone();
            entries.remove("Length");
            entries.write(&mut stream);
            stream.finish();
        }
        _ => value.write(chunk.indirect(Ref::new(number))),
    }
}

/// Where the text of an element of XML is.
fn inside(xml: &str, element: &str) -> Option<Range<usize>> {
    let (open, close) = (format!("<{element}>"), format!("</{element}>"));
    let start = xml.find(&open)? + open.len();
    Some(start..start + xml[start..].find(&close)?)
}

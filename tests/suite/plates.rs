//! Leaves laid over plates are the leaves that Typst writes one by one. In: sheets of every experiment. Out: pass, or the first page or
//! element that differs.
//!
//! The outside source is the PDF writer itself, which writes the same leaves with all of their content; another library reads both
//! files and paints their pages.

use hayro::{RenderCache, RenderSettings, render};
use hayro_syntax::{
    Pdf,
    content::{TypedIter, ops::TypedInstruction},
    object::{Array, Dict, Name, Object, ObjectIdentifier, Stream, String as Text},
    page::Page,
};
use labquire::{
    experiment::catalogue,
    press::{Leaf, PdfJob, Plates, Press, Standards},
};
use rayon::prelude::*;

use crate::stamps::leaves;

fn pdf(press: Press<'_>, leaves: &[Leaf], standards: Standards) -> Pdf {
    let job = PdfJob { ident: "plates".into(), standards };
    Pdf::new(press.pdf(leaves.to_vec(), &job).expect("set").bytes).expect("a PDF")
}

/// Whether content comes in several streams.
fn lies(page: &Page<'_>) -> bool {
    page.raw().get::<Array<'_>>("Contents").is_some()
}

fn laid(pdf: &Pdf) -> usize {
    pdf.pages().iter().filter(|page| lies(page)).count()
}

/// Texts may not reach from one stream of a page into the next (ISO 32000-1, 7.8.2: division between words; and no word of a text alone).
fn streams_are_whole(pdf: &Pdf) {
    for page in pdf.pages().iter().filter(|page| lies(page)) {
        for stream in page.raw().get::<Array<'_>>("Contents").expect("a list").iter::<Stream<'_>>() {
            let content = stream.decoded().expect("unpacked");
            let (mut operations, mut open) = (TypedIter::new(&content), 0);
            while let Some(operation) = operations.next() {
                match operation {
                    TypedInstruction::BeginText(_) => open += 1,
                    TypedInstruction::EndText(_) => open -= 1,
                    TypedInstruction::Fallback(_) => panic!("unknown operation: {operation:?}"),
                    _ => {}
                }
            }
            assert_eq!(open, 0, "{}", String::from_utf8_lossy(&content));
        }
    }
}

/// The first laid page that looks different, and how many points do.
fn difference(one: &Pdf, other: &Pdf) -> Option<(usize, usize)> {
    let settings = RenderSettings { x_scale: 1.5, y_scale: 1.5, ..RenderSettings::default() };
    let (one_cache, other_cache) = (RenderCache::new(), RenderCache::new());
    let pages = one.pages().iter().zip(other.pages().iter()).enumerate();
    let laid = pages.filter(|(_, (one, _))| lies(one));
    laid.map(|(place, (one, other))| {
        let one = render(one, &one_cache, &Default::default(), &settings);
        let other = render(other, &other_cache, &Default::default(), &settings);
        let points = one.data_as_u8_slice().chunks(4).zip(other.data_as_u8_slice().chunks(4));
        let differ = points.clone().filter(|(one, other)| one != other).count();
        assert!(points.clone().any(|(one, _)| one != [255, 255, 255, 255]), "page {place} is empty");
        (place, differ)
    })
    .find(|(_, differ)| *differ > 0)
}

/// Each element with those around it: what it is, what is spoken, its page and the number of its marks there; and its box.
fn structure(pdf: &Pdf) -> Vec<(String, Vec<f64>)> {
    let pages: Vec<Option<ObjectIdentifier>> = pdf.pages().iter().map(|page| page.raw().obj_id()).collect();
    let catalog: Dict<'_> = pdf.xref().get(pdf.xref().root_id()).expect("a catalog");
    let mut told = Vec::new();
    if let Some(root) = catalog.get::<Dict<'_>>("StructTreeRoot") {
        tell(&root, 0, &pages, &mut told);
    }
    told
}

/// An object with all that it refers to, and boxes apart. The names of header cells are each leaf's own.
fn written(object: Object<'_>, boxes: &mut Vec<f64>) -> String {
    match object {
        Object::Dict(entries) => {
            boxes.extend(
                entries
                    .get::<Array<'_>>("BBox")
                    .into_iter()
                    .flat_map(|corners| corners.iter::<f64>().collect::<Vec<_>>()),
            );
            let keys = entries.keys().map(|key| key.as_str().to_owned());
            let mut all: Vec<String> = keys
                .filter(|key| key != "Headers" && key != "BBox")
                .map(|key| {
                    let value = entries.get::<Object<'_>>(key.as_bytes()).map(|value| written(value, boxes));
                    format!("{key} {}", value.unwrap_or_default())
                })
                .collect();
            all.sort();
            format!("<{}>", all.join(", "))
        }
        Object::Array(items) => {
            items.iter::<Object<'_>>().map(|item| written(item, boxes)).collect::<Vec<_>>().join(" ")
        }
        Object::Number(number) => number.as_f64().to_string(),
        Object::Name(name) => name.as_str().to_owned(),
        Object::String(text) => format!("{:?}", text.as_bytes()),
        other => format!("{other:?}"),
    }
}

fn tell(element: &Dict<'_>, depth: usize, pages: &[Option<ObjectIdentifier>], told: &mut Vec<(String, Vec<f64>)>) {
    let kids: Vec<Object<'_>> = match element.get::<Object<'_>>("K") {
        Some(Object::Array(kids)) => kids.iter::<Object<'_>>().collect(),
        kid => kid.into_iter().collect(),
    };
    let marks = kids.iter().filter(|kid| matches!(kid, Object::Number(_))).count();
    let text = |key: &str| element.get::<Text<'_>>(key).map(|text| text.as_bytes().to_vec());
    let page = element.get::<Dict<'_>>("Pg").map(|page| pages.iter().position(|known| *known == page.obj_id()));
    let role = element.get::<Name<'_>>("S").map(|name| name.as_str().to_owned());
    let mut place = Vec::new();
    let attributes = element.get::<Object<'_>>("A").map(|all| written(all, &mut place)).unwrap_or_default();
    let said = format!("{depth} {role:?} {:?} {:?} {attributes} on {page:?}: {marks}", text("Alt"), text("T"));
    told.push((said, place));
    for kid in kids {
        if let Object::Dict(kid) = kid {
            tell(&kid, depth + 1, pages, told);
        }
    }
}

/// Every mark on every page, with the element that the tree of parents gives it, must be a kid of that element there.
fn parents(pdf: &Pdf) -> usize {
    let catalog: Dict<'_> = pdf.xref().get(pdf.xref().root_id()).expect("a catalog");
    let root: Dict<'_> = catalog.get("StructTreeRoot").expect("a structure");
    let nums: Array<'_> = root.get::<Dict<'_>>("ParentTree").and_then(|tree| tree.get("Nums")).expect("numbers");
    let nums: Vec<Object<'_>> = nums.iter::<Object<'_>>().collect();
    let mut count = 0;
    for page in pdf.pages().iter() {
        let Some(key) = page.raw().get::<i32>("StructParents") else { continue };
        let list = nums.chunks(2).find(|pair| pair[0].clone().into_i32() == Some(key)).expect("a key of the tree");
        for (mark, parent) in list[1].clone().into_array().expect("a list").iter::<Dict<'_>>().enumerate() {
            let on_page =
                |holder: &Dict<'_>| holder.get::<Dict<'_>>("Pg").map(|on| on.obj_id()) == Some(page.raw().obj_id());
            let kids = match parent.get::<Object<'_>>("K") {
                Some(Object::Array(kids)) => kids.iter::<Object<'_>>().collect(),
                kid => kid.into_iter().collect::<Vec<_>>(),
            };
            let own = kids.into_iter().any(|kid| match kid {
                Object::Number(number) => number.as_i64() == mark as i64 && on_page(&parent),
                Object::Dict(kid) => kid.get::<i32>("MCID") == i32::try_from(mark).ok() && on_page(&kid),
                _ => false,
            });
            assert!(own, "mark {mark} is not a kid of its parent");
            count += 1;
        }
    }
    count
}

/// How many pages lie on plates, and how many marks were followed, of leaves that must look and read as those written one by one.
fn compared(id: &str, leaves: &[Leaf]) -> (usize, usize) {
    let plates = Plates::default();
    let own = pdf(Press::new().laying(&plates), leaves, Standards::Accessible);
    let plain = pdf(Press::new(), leaves, Standards::Accessible);
    assert_eq!(own.pages().len(), plain.pages().len(), "{id}: pages");
    assert_eq!(laid(&plain), 0, "{id}");
    assert_eq!(difference(&own, &plain), None, "{id}: page and points that differ");
    let (told, wanted) = (structure(&own), structure(&plain));
    for ((told, place), (wanted, there)) in told.iter().zip(&wanted) {
        assert_eq!(told, wanted, "{id}");
        assert_eq!(place.len(), there.len(), "{id}: {told}");
        // Boxes on plates reach as far as noughts do.
        let near = place.iter().zip(there).all(|(one, other)| (one - other).abs() < 2.5);
        assert!(near, "{id}: {told} {place:?} {there:?}");
    }
    assert_eq!(told.len(), wanted.len(), "{id}: elements");
    let catalog: Dict<'_> = own.xref().get(own.xref().root_id()).expect("a catalog");
    let types = catalog.data().windows(6).filter(|bytes| bytes == b"/Type/").count();
    assert_eq!(types, 1, "{id}: {}", String::from_utf8_lossy(catalog.data()));
    streams_are_whole(&own);
    (laid(&own), parents(&own))
}

/// Sheets, then keys, of an experiment.
fn sheets_and_keys(id: &str, lang: &str) -> [Vec<Leaf>; 2] {
    let both = leaves(id, lang);
    [0, 1].map(|first| both.iter().skip(first).step_by(2).cloned().collect())
}

#[test]
fn laid_leaves_look_and_read_as_those_written_one_by_one() {
    let ids = catalogue::ids();
    let counted: Vec<[(usize, usize); 2]> = ids
        .par_iter()
        .enumerate()
        .map(|(place, id)| sheets_and_keys(id, ["en", "de", "fr", "es"][place % 4]).map(|leaves| compared(id, &leaves)))
        .collect();
    for (kind, least) in [(0, 200), (1, 50)] {
        let all = counted.iter().map(|one| one[kind]);
        let (laid, marks) = all.fold((0, 0), |sum, one| (sum.0 + one.0, sum.1 + one.1));
        assert!(laid > least, "only {laid} pages of kind {kind} lay on plates");
        assert!(marks > 10_000, "only {marks} marks of kind {kind} were followed");
    }
}

#[test]
fn leaves_lie_on_plates_without_a_structure_as_well() {
    let [sheets, _] = sheets_and_keys("pumped-loop", "en");
    let plates = Plates::default();
    let own = pdf(Press::new().laying(&plates), &sheets, Standards::Plain);
    assert!(laid(&own) > 0);
    assert!(structure(&own).is_empty());
    assert_eq!(difference(&own, &pdf(Press::new(), &sheets, Standards::Plain)), None);
}

#[test]
fn the_bytes_do_not_depend_on_what_was_set_before_or_on_threads() {
    let [sheets, _] = sheets_and_keys("pumped-loop", "en");
    let (plates, others) = (Plates::default(), Plates::default());
    let first = pdf(Press::new().laying(&plates), &sheets, Standards::Accessible);
    let again = pdf(Press::new().laying(&plates), &sheets, Standards::Accessible);
    let shared = pdf(Press::new().by_hands(3).laying(&others), &sheets, Standards::Accessible);
    assert_eq!(first.data().as_ref(), again.data().as_ref());
    assert_eq!(first.data().as_ref(), shared.data().as_ref());
}

//! Spots for drawings. In: set pages. Out: where on them a drawing goes that is set apart. It must not know what is drawn.

use typst::{
    foundations::Value,
    introspection::{MetadataElem, Tag},
    layout::{Frame, FrameItem, Point},
};

/// What a spot says of itself, see `look.typ`.
const SPOT: &str = "spot";

/// The spots of a page, in order. There are none in what is turned or scaled.
pub(super) fn spots(page: &Frame) -> Vec<Point> {
    let mut found = Vec::new();
    collect(page, Point::zero(), &mut found);
    found
}

fn collect(frame: &Frame, origin: Point, found: &mut Vec<Point>) {
    for (at, item) in frame.items() {
        match item {
            FrameItem::Group(group) if group.transform.is_identity() => collect(&group.frame, origin + *at, found),
            FrameItem::Tag(Tag::Start(element, _)) => {
                let says = element.to_packed::<MetadataElem>().map(|metadata| &metadata.value);
                if matches!(says, Some(Value::Str(text)) if text.as_str() == SPOT) {
                    found.push(origin + *at);
                }
            }
            _ => {}
        }
    }
}

#[cfg(test)]
mod tests {
    use typst::layout::Abs;

    use super::*;
    use crate::press::Press;

    #[test]
    fn spots_are_found_where_they_stand() {
        let source = "#import \"/parts/look.typ\": spot\n#set page(margin: 10mm)\n\
            #place(dx: 5mm, dy: 20mm, block(inset: 3mm, place(dx: 1mm, spot)))\n\
            #metadata(\"other\")#place(rotate(90deg, spot))#place(dy: 50mm, spot)";
        let document = Press::new().document(source.to_owned()).expect("set");
        let found = spots(&document.pages()[0].frame);
        let millimetres = found.iter().map(|spot| (spot.x.to_mm().round(), spot.y.to_mm().round()));
        assert_eq!(millimetres.collect::<Vec<_>>(), [(19.0, 33.0), (10.0, 60.0)]);
        assert!(found[0].x > Abs::zero());
    }
}

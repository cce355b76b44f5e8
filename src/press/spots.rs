//! Spots for what is set apart. In: set pages. Out: what goes where on them. It must not know how it looks.

use typst::{
    foundations::Value,
    introspection::{MetadataElem, Tag},
    layout::{Frame, FrameItem, Point},
};

/// What goes to a spot, see `spot` in `look.typ`.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Spot {
    Foot,
    Head,
    Drawing,
}

impl Spot {
    fn of(text: &str) -> Option<Self> {
        Some(match text.strip_prefix("spot ")? {
            "foot" => Self::Foot,
            "head" => Self::Head,
            "drawing" => Self::Drawing,
            _ => return None,
        })
    }
}

/// The spots of a page, in order. There are none in what is turned or scaled.
pub(super) fn spots(page: &Frame) -> Vec<(Spot, Point)> {
    let mut found = Vec::new();
    collect(page, Point::zero(), &mut found);
    found
}

fn collect(frame: &Frame, origin: Point, found: &mut Vec<(Spot, Point)>) {
    for (at, item) in frame.items() {
        match item {
            FrameItem::Group(group) if group.transform.is_identity() => collect(&group.frame, origin + *at, found),
            FrameItem::Tag(Tag::Start(element, _)) => {
                if let Some(Value::Str(text)) = element.to_packed::<MetadataElem>().map(|metadata| &metadata.value)
                    && let Some(spot) = Spot::of(text)
                {
                    found.push((spot, origin + *at));
                }
            }
            _ => {}
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::press::Press;

    #[test]
    fn spots_are_found_where_they_stand() {
        let source = "#import \"/parts/look.typ\": spot\n#set page(margin: 10mm)\n\
            #place(dx: 5mm, dy: 20mm, block(inset: 3mm, place(dx: 1mm, spot(\"drawing\"))))\n\
            #metadata(\"other\")#place(rotate(90deg, spot(\"head\")))#place(dy: 50mm, spot(\"foot\"))";
        let document = Press::new().document(source.to_owned()).expect("set");
        let found = spots(&document.pages()[0].frame);
        let millimetres = found.iter().map(|(spot, at)| (*spot, at.x.to_mm().round(), at.y.to_mm().round()));
        let wanted = [(Spot::Drawing, 19.0, 33.0), (Spot::Foot, 10.0, 60.0)];
        assert_eq!(millimetres.collect::<Vec<_>>(), wanted);
    }
}

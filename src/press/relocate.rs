//! Moving a page into another document. In: a frame. Out: the same frame, its elements named anew.
//! Typst names an element by its place in its own document; two documents bound into one would share those names.

use typst::{
    introspection::Tag,
    layout::{Frame, FrameItem, FrameParent, GroupItem},
    model::Destination,
};

/// A frame whose elements have names that only documents of the same number share.
pub(super) fn relocate(frame: &Frame, number: usize) -> Frame {
    let mut moved = Frame::new(frame.size(), frame.kind());
    if frame.has_baseline() {
        moved.set_baseline(frame.baseline());
    }
    moved.push_multiple(frame.items().map(|(at, item)| (*at, item_at(item, number))));
    moved
}

fn item_at(item: &FrameItem, number: usize) -> FrameItem {
    match item {
        FrameItem::Tag(Tag::Start(element, flags)) => {
            let mut element = element.clone();
            if let Some(location) = element.location() {
                element.set_location(location.variant(number));
            }
            FrameItem::Tag(Tag::Start(element, *flags))
        }
        FrameItem::Tag(Tag::End(location, key, flags)) => {
            FrameItem::Tag(Tag::End(location.variant(number), *key, *flags))
        }
        FrameItem::Group(group) => FrameItem::Group(GroupItem {
            frame: relocate(&group.frame, number),
            parent: group.parent.map(|parent| FrameParent::new(parent.location.variant(number), parent.inherit)),
            ..group.clone()
        }),
        FrameItem::Link(Destination::Location(location), size) => {
            FrameItem::Link(Destination::Location(location.variant(number)), *size)
        }
        FrameItem::Text(_) | FrameItem::Shape(..) | FrameItem::Image(..) | FrameItem::Link(..) => item.clone(),
    }
}

//! Moving a page into another document. In: a frame. Out: the same frame, its elements named anew, its digits stamped in.
//! Typst names an element by its place in its own document; two documents bound into one would share those names.

use super::stamp::{Stamps, Unstampable};
use typst::{
    introspection::Tag,
    layout::{Frame, FrameItem, FrameParent, GroupItem},
    model::Destination,
};

/// A move to a place of its own in another document.
pub(super) struct Move<'a> {
    number: usize,
    stamps: Option<Stamps<'a>>,
}

impl<'a> Move<'a> {
    /// Gives elements names that only moves of the same number share.
    pub(super) fn to(number: usize) -> Self {
        Self { number, stamps: None }
    }

    /// The same, and stamps texts on the way.
    pub(super) fn stamping(self, stamps: Option<Stamps<'a>>) -> Self {
        Self { stamps, ..self }
    }

    /// The moved frame; frames of one document must come in their order.
    ///
    /// # Errors
    /// If a text can't be stamped.
    pub(super) fn frame(&mut self, frame: &Frame) -> Result<Frame, Unstampable> {
        let mut moved = Frame::new(frame.size(), frame.kind());
        if frame.has_baseline() {
            moved.set_baseline(frame.baseline());
        }
        let items: Vec<_> =
            frame.items().map(|(at, item)| Ok((*at, self.item(item)?))).collect::<Result<_, Unstampable>>()?;
        moved.push_multiple(items);
        Ok(moved)
    }

    /// The moved frame without stamps, which nothing can fail for.
    pub(super) fn plain(&mut self, frame: &Frame) -> Frame {
        self.stamps = None;
        self.frame(frame).unwrap_or_else(|Unstampable| frame.clone())
    }

    fn item(&mut self, item: &FrameItem) -> Result<FrameItem, Unstampable> {
        let number = self.number;
        Ok(match item {
            FrameItem::Tag(Tag::Start(element, flags)) => {
                let mut element = element.clone();
                if let Some(location) = element.location() {
                    element.set_location(location.variant(number));
                }
                if let Some(stamps) = &self.stamps {
                    stamps.element(&mut element);
                }
                FrameItem::Tag(Tag::Start(element, *flags))
            }
            FrameItem::Tag(Tag::End(location, key, flags)) => {
                FrameItem::Tag(Tag::End(location.variant(number), *key, *flags))
            }
            FrameItem::Group(group) => FrameItem::Group(GroupItem {
                frame: self.frame(&group.frame)?,
                parent: group.parent.map(|parent| FrameParent::new(parent.location.variant(number), parent.inherit)),
                ..group.clone()
            }),
            FrameItem::Link(Destination::Location(location), size) => {
                FrameItem::Link(Destination::Location(location.variant(number)), *size)
            }
            FrameItem::Text(text) => match &mut self.stamps {
                Some(stamps) => FrameItem::Text(stamps.text(text)?),
                None => item.clone(),
            },
            FrameItem::Shape(..) | FrameItem::Image(..) | FrameItem::Link(..) => item.clone(),
        })
    }
}

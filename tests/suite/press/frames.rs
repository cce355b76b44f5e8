//! Looking into set pages. In: a document. Out: its text and its strokes at their places. It must not judge them.

use typst::{
    layout::{Abs, Frame, FrameItem, Point},
    visualize::{CurveItem, Geometry},
};
use typst_layout::PagedDocument;

/// All text of a page, run after run.
pub(crate) fn page_text(document: &PagedDocument, page: usize) -> String {
    let mut text = String::new();
    visit(&document.pages()[page].frame, Point::zero(), &mut |_, item| {
        if let FrameItem::Text(run) = item {
            text.push_str(&run.text);
        }
    });
    text
}

/// Whether nothing at all is printed on a page.
pub(crate) fn is_blank(document: &PagedDocument, page: usize) -> bool {
    let mut blank = true;
    visit(&document.pages()[page].frame, Point::zero(), &mut |_, item| {
        blank &= !matches!(item, FrameItem::Text(_) | FrameItem::Shape(..) | FrameItem::Image(..));
    });
    blank
}

/// Text without white space and break opportunities.
pub(crate) fn squeezed(text: &str) -> String {
    text.chars().filter(|sign| !sign.is_whitespace() && *sign != '\u{200B}').collect()
}

/// Straight strokes of a page drawn by curves: their thickness in points, their ends in millimetres from the top left.
pub(crate) fn strokes(document: &PagedDocument, page: usize) -> Vec<(f64, [f64; 2], [f64; 2])> {
    let mut found = Vec::new();
    visit(&document.pages()[page].frame, Point::zero(), &mut |origin, item| {
        let FrameItem::Shape(shape, _) = item else { return };
        let (Geometry::Curve(curve), Some(stroke)) = (&shape.geometry, &shape.stroke) else { return };
        let place = |point: Point| [(origin + point).x, (origin + point).y].map(Abs::to_mm);
        let mut pen = place(Point::zero());
        for piece in &curve.0 {
            match *piece {
                CurveItem::Move(to) => pen = place(to),
                CurveItem::Line(to) => {
                    found.push((stroke.thickness.to_pt(), pen, place(to)));
                    pen = place(to);
                }
                CurveItem::Cubic(_, _, to) => pen = place(to),
                CurveItem::Close => {}
            }
        }
    });
    found
}

fn visit(frame: &Frame, origin: Point, look: &mut impl FnMut(Point, &FrameItem)) {
    for (at, item) in frame.items() {
        let place = origin + *at;
        look(place, item);
        if let FrameItem::Group(group) = item {
            visit(&group.frame, place, look);
        }
    }
}

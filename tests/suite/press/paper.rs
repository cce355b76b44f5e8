//! Millimetres of graph paper, measured in set pages. Tolerance: a hundredth of a millimetre, a tenth of what is promised.

use labquire::{
    graph::GraphPaper,
    press::{Documents, Paper, Press},
    sheet::Sheet,
};
use typst_layout::PagedDocument;

use super::{
    fixture,
    frames::{page_text, strokes},
};

const TOLERANCE_MM: f64 = 0.01;

fn set(sheet: Sheet, key: bool) -> PagedDocument {
    let documents = Documents::new().expect("pages that can be set");
    let leaf = if key { documents.key("x", &sheet, Paper::A4) } else { documents.worksheet("x", &sheet, Paper::A4) };
    Press::new().document(vec![leaf.expect("pages that can be set")]).expect("set pages")
}

fn graph_page(document: &PagedDocument) -> usize {
    (0..document.pages().len())
        .find(|&page| page_text(document, page).contains("100 mm:"))
        .expect("pages that can be set")
}

/// Places of the lines of so many millimetres' length, drawn with one of the pens, across and down.
fn places(document: &PagedDocument, pens: &[f64], width: f64, height: f64) -> [Vec<f64>; 2] {
    let mut found = [Vec::new(), Vec::new()];
    for (pen, from, to) in strokes(document, graph_page(document)) {
        if !pens.iter().any(|wanted| (wanted - pen).abs() < 1e-6) {
            continue;
        }
        if from[0] == to[0] && ((to[1] - from[1]).abs() - height).abs() < TOLERANCE_MM {
            found[0].push(from[0]);
        }
        if from[1] == to[1] && ((to[0] - from[0]).abs() - width).abs() < TOLERANCE_MM {
            found[1].push(from[1]);
        }
    }
    found.iter_mut().for_each(|list| list.sort_by(f64::total_cmp));
    found
}

/// Checks that lines lie at every multiple of the pitch over the whole length; no step may add up to more.
fn assert_pitch(lines: &[f64], pitch: f64, length: f64) {
    assert_eq!(lines.len(), (length / pitch).round() as usize + 1);
    for (place, line) in lines.iter().enumerate() {
        let wanted = lines[0] + place as f64 * pitch;
        assert!((line - wanted).abs() < TOLERANCE_MM, "line {place} at {line}, wanted {wanted}");
    }
}

#[test]
fn lines_of_graph_paper_are_exactly_a_millimetre_apart() {
    for key in [false, true] {
        let document = set(fixture::sheet(None, "en", false, key), key);
        let GraphPaper { width_mm: width, height_mm: height, .. } = GraphPaper::of(false);
        let (width, height) = (f64::from(width), f64::from(height));
        let [across, down] = places(&document, &[0.25, 0.4, 0.6], width, height);
        assert_pitch(&across, 1.0, width);
        assert_pitch(&down, 1.0, height);
        let [across, down] = places(&document, &[0.6], width, height);
        assert_pitch(&across, 10.0, width);
        assert_pitch(&down, 10.0, height);
    }
}

#[test]
fn large_print_has_heavy_lines_every_five_millimetres() {
    let document = set(fixture::sheet(None, "en", true, false), false);
    let GraphPaper { width_mm: width, height_mm: height, .. } = GraphPaper::of(true);
    let (width, height) = (f64::from(width), f64::from(height));
    let [across, down] = places(&document, &[0.6, 1.1], width, height);
    assert_pitch(&across, 5.0, width);
    assert_pitch(&down, 5.0, height);
}

#[test]
fn the_check_bar_is_a_hundred_millimetres_long() {
    let document = set(fixture::sheet(None, "en", false, false), false);
    let bars = strokes(&document, graph_page(&document));
    assert!(
        bars.iter().any(|(pen, from, to)| (pen - 0.8).abs() < 1e-6 && ((to[0] - from[0]) - 100.0).abs() < TOLERANCE_MM)
    );
}

#[test]
fn points_of_the_key_lie_where_the_scale_puts_them() {
    let graph = fixture::graph("en", false, labquire::sheet::Frame::Labelled, true);
    let document = set(fixture::sheet(None, "en", false, true), true);
    let (width, height) = (f64::from(graph.width_mm), f64::from(graph.height_mm));
    let [across, down] = places(&document, &[0.25, 0.4, 0.6], width, height);
    let (left, bottom) = (across[0], down[down.len() - 1]);
    let crosses: Vec<_> =
        strokes(&document, graph_page(&document)).into_iter().filter(|(pen, ..)| (pen - 0.9).abs() < 1e-6).collect();
    assert_eq!(crosses.len(), 2 * graph.series[0].points.len());
    for (stroke, (x, y)) in crosses.iter().step_by(2).zip(&graph.series[0].points) {
        let (_, from, to) = stroke;
        let middle = [(from[0] + to[0]) / 2.0 - left, bottom - (from[1] + to[1]) / 2.0];
        assert!(
            (middle[0] - x).abs() < TOLERANCE_MM && (middle[1] - y).abs() < TOLERANCE_MM,
            "{middle:?}, wanted {x}, {y}"
        );
    }
}

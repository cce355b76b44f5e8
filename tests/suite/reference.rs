//! Reads the stored reference tables. In: a file of tests/reference. Out: its rows as text. It must not skip a row.

use std::path::Path;

/// The rows of a reference table, header and comment lines left out.
pub(crate) fn rows(name: &str) -> Vec<Vec<String>> {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/reference").join(name);
    let mut reader = csv::ReaderBuilder::new().comment(Some(b'#')).from_path(&path).expect(name);
    let rows: Vec<Vec<String>> =
        reader.records().map(|row| row.expect(name).iter().map(str::to_owned).collect()).collect();
    assert!(!rows.is_empty(), "{name} is empty");
    rows
}

/// A cell as a number.
pub(crate) fn number(cell: &str) -> f64 {
    cell.parse().unwrap_or_else(|_| panic!("`{cell}` is no number"))
}

/// Asserts that two numbers agree within a relative tolerance (absolute below one).
pub(crate) fn assert_near(found: f64, wanted: f64, tolerance: f64, what: &str) {
    let scale = wanted.abs().max(1.0);
    assert!((found - wanted).abs() <= tolerance * scale, "{what}: found {found}, wanted {wanted}");
}

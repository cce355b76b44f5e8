//! Item statistics against numpy. In: `tests/reference/item_statistics.csv`, made by the script beside it. Out: pass or fail.

use std::collections::BTreeMap;

use labquire::marking::Scores;

use crate::reference::assert_near;

/// A class: rows of cells by kind, an empty cell where there is no number.
type Class = BTreeMap<String, Vec<Vec<Option<f64>>>>;

fn classes() -> BTreeMap<String, Class> {
    let path = format!("{}/tests/reference/item_statistics.csv", env!("CARGO_MANIFEST_DIR"));
    let mut reader = csv::ReaderBuilder::new().flexible(true).from_path(path).expect("a file of the project");
    let mut classes: BTreeMap<String, Class> = BTreeMap::new();
    for record in reader.records() {
        let record = record.expect("a row");
        let cells = record.iter().skip(2).map(|cell| cell.parse().ok()).collect();
        classes.entry(record[0].to_owned()).or_default().entry(record[1].to_owned()).or_default().push(cells);
    }
    classes
}

#[test]
fn facility_discrimination_and_alpha_agree_with_numpy() {
    let classes = classes();
    assert_eq!(classes.len(), 4);
    let mut compared = 0;
    for (name, class) in &classes {
        let worth: Vec<f64> = class["worth"][0].iter().map(|cell| cell.expect("a number")).collect();
        let scores = Scores::new(class["scores"].clone(), worth.clone());
        let mut near = |found: Option<f64>, expected: Option<f64>, what: &str| match (found, expected) {
            (Some(found), Some(expected)) => {
                compared += 1;
                assert_near(found, expected, 1e-9, &format!("{name}: {what}"));
            }
            (found, expected) => assert_eq!(found, expected, "{name}: {what}"),
        };
        let expected = class["facility"][0].iter().zip(&class["discrimination"][0]);
        for (task, (facility, discrimination)) in expected.enumerate() {
            let item = scores.item(task);
            near(item.facility, *facility, "facility");
            near(item.discrimination, *discrimination, "discrimination");
        }
        near(scores.alpha(), class["alpha"][0].first().copied().flatten(), "alpha");
    }
    assert!(compared > 40, "{compared} values");
}

/// By hand: 5 of 10, 10 of 10, 0 of 10, and 9.99 of 10.
#[test]
fn totals_fall_into_tenths() {
    let rows = [5.0, 10.0, 0.0, 9.99].map(|score| vec![Some(score), None]).to_vec();
    assert_eq!(Scores::new(rows, vec![10.0, 4.0]).histogram(), [1, 0, 0, 0, 0, 1, 0, 0, 0, 2]);
}

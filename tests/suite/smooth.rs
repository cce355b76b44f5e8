//! Smooth curves through points. In: points. Out: pass or fail.

use labquire::graph::Smooth;
use proptest::prelude::*;

use crate::reference::{number, rows};

/// Source: scipy's `PchipInterpolator`, tests/reference/smooth.py.
#[test]
fn curves_agree_with_scipy() {
    let list = |text: &str| text.split(';').map(number).collect::<Vec<f64>>();
    for row in rows("smooth.csv") {
        let curve = Smooth::through(&list(&row[1]), &list(&row[2])).expect("enough points");
        let (at, wanted) = (number(&row[3]), number(&row[4]));
        assert!(
            (curve.value(at) - wanted).abs() <= 1e-9 * wanted.abs().max(1.0),
            "{} at {at}: {}",
            row[0],
            curve.value(at)
        );
    }
}

#[test]
fn equal_places_count_once_and_one_place_is_too_few() {
    let curve = Smooth::through(&[3.0, 1.0, 1.0], &[5.0, 1.0, 2.0]).expect("two places");
    assert_eq!((curve.value(1.0), curve.value(2.0), curve.value(3.0)), (1.5, 3.25, 5.0));
    assert_eq!(Smooth::through(&[2.0, 2.0], &[1.0, 3.0]), None);
}

proptest! {
    #[test]
    fn no_curve_leaves_the_heights_of_its_neighbours(heights in prop::collection::vec(-50.0..50.0f64, 2..12), share in 0.0..1.0f64) {
        let places: Vec<f64> = (0..heights.len()).map(|place| (place * place + place) as f64).collect();
        let curve = Smooth::through(&places, &heights).expect("enough points");
        for (x, y) in places.windows(2).zip(heights.windows(2)) {
            let value = curve.value(x[0] + share * (x[1] - x[0]));
            prop_assert!(value >= y[0].min(y[1]) - 1e-9 && value <= y[0].max(y[1]) + 1e-9, "{value} between {y:?}");
        }
    }
}

//! Scales of graph paper. Rule: 1, 2 or 5 to ten millimetres, more than half of the axis filled (common practice, no
//! source). In: ranges of data. Out: pass or fail.

use labquire::graph::{Scale, ScaleError};
use proptest::prelude::*;

fn texts(scale: Scale, every_mm: u32) -> Vec<String> {
    scale.ticks(every_mm).into_iter().map(|(_, text)| text).collect()
}

#[test]
fn a_heating_curve_gets_easy_numbers() {
    let time = Scale::choose(0.0, 60.0, 160, true).unwrap();
    assert_eq!((time.step_text().as_str(), time.length_mm()), ("5", 160));
    assert_eq!(texts(time, 20)[..4], ["0", "10", "20", "30"]);
    let temperature = Scale::choose(20.4, 53.5, 120, false).unwrap();
    assert_eq!(temperature.step_text(), "5");
    assert_eq!(texts(temperature, 10)[..3], ["20", "25", "30"]);
    assert!((temperature.position(22.5) - 5.0).abs() < 1e-9);
    assert!((temperature.value(5.0) - 22.5).abs() < 1e-9);
}

#[test]
fn numbers_at_the_ticks_are_exact_decimals() {
    let small = Scale::choose(0.0, 0.7, 100, true).unwrap();
    assert_eq!(texts(small, 10), ["0.0", "0.1", "0.2", "0.3", "0.4", "0.5", "0.6", "0.7", "0.8", "0.9", "1.0"]);
    let large = Scale::choose(12_000.0, 17_900.0, 120, false).unwrap();
    assert_eq!(texts(large, 10)[..3], ["12000", "12500", "13000"]);
    let both = Scale::choose(-0.02, 0.03, 100, false).unwrap();
    assert_eq!(texts(both, 20)[..3], ["-0.020", "-0.010", "0.000"]);
}

#[test]
fn rounding_errors_of_binary_numbers_waste_no_square() {
    // 0.1 + 0.2 is a little more than 0.3, 0.7 - 0.1 a little less than 0.6.
    let scale = Scale::choose(0.7 - 0.1, 0.6 + 1.0, 100, false).unwrap();
    assert_eq!(texts(scale, 10).first().map(String::as_str), Some("0.6"));
    let scale = Scale::choose(0.0, (0.1 + 0.2) * 10.0 / 3.0, 100, true).unwrap();
    assert_eq!(scale.step_text(), "0.1");
}

#[test]
fn an_axis_may_get_shorter_to_be_filled() {
    // 41 % of the paper at 5 to 10 mm, too much for 2 to 10 mm.
    let scale = Scale::choose(0.0, 33.0, 160, true).unwrap();
    assert_eq!((scale.step_text().as_str(), scale.length_mm()), ("5", 130));
}

#[test]
fn what_has_no_scale_is_refused() {
    for (min, max) in [(1.0, 1.0), (2.0, 1.0), (f64::NAN, 1.0), (0.0, f64::INFINITY)] {
        assert_eq!(Scale::choose(min, max, 100, false), Err(ScaleError::Range), "{min} {max}");
    }
    assert_eq!(Scale::choose(0.0, 1.0, 50, true), Err(ScaleError::Length));
}

proptest! {
    #[test]
    fn data_fit_and_fill_more_than_half(
        low in -1e4_f64..1e4, width in 1e-3_f64..1e4, squares in 6_u32..25, zero in any::<bool>()
    ) {
        let scale = Scale::choose(low, low + width, squares * 10, zero).unwrap();
        let length = f64::from(scale.length_mm());
        let ends = if zero { (low.min(0.0), (low + width).max(0.0)) } else { (low, low + width) };
        let (from, to) = (scale.position(ends.0), scale.position(ends.1));
        prop_assert!(scale.length_mm() <= squares * 10);
        // Half a millimetre beyond the axis is plotted on it.
        prop_assert!(from > -0.5 - 1e-6 && to < length + 0.5 + 1e-6, "{from} to {to} of {length}");
        prop_assert!(to - from > length / 2.0 - 1e-6, "{from} to {to} of {length}");
        prop_assert!(matches!(scale.step_text().trim_matches(['0', '.']), "1" | "2" | "5"));
    }

    #[test]
    fn ticks_lie_at_their_own_values(low in -1e3_f64..1e3, width in 1e-2_f64..1e3) {
        let scale = Scale::choose(low, low + width, 120, false).unwrap();
        for (at, text) in scale.ticks(10) {
            prop_assert!((scale.position(text.parse().unwrap()) - at).abs() < 1e-6, "{text} at {at}");
        }
    }
}

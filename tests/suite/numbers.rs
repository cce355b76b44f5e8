//! Numbers: rounding, writing, reading.

use labquire::{
    language::Language,
    quantity::{Notation, rounding},
};
use proptest::prelude::*;

/// Source: ISO 80000-1:2009, annex B, rule B (ties away from zero), examples as recalled in the reference cases.
#[test]
fn rounding_follows_rule_b() {
    for (number, places, text) in
        [(12.223, 1, "12.2"), (12.251, 1, "12.3"), (12.275, 1, "12.3"), (12.25, 1, "12.3"), (12.35, 1, "12.4")]
    {
        assert_eq!(rounding::to_places(number, places).text, text, "{number}");
    }
    for (number, text) in [(1222.3, "1220"), (1225.1, "1230"), (1225.0, "1230"), (1235.0, "1240")] {
        assert_eq!(rounding::to_step(number, 10.0).text, text, "{number}");
    }
}

/// The decimal value counts, not its binary neighbour: 12.35 is stored as 12.3499999999999996.
#[test]
fn binary_neighbours_do_not_matter() {
    assert_eq!(rounding::to_figures(12.35, 3).text, "12.4");
    assert_eq!(rounding::to_figures(12.349_999_999_999_998, 3).text, "12.4");
    assert_eq!(rounding::to_places(2.675, 2).text, "2.68");
    assert_eq!(rounding::to_places(0.1 + 0.2, 1).text, "0.3");
    assert_eq!(rounding::to_places(-12.35, 1).text, "-12.4");
}

/// Rounded once, never in steps: 12.254 is 12.3 by way of 12.25, but 12.254 to one place is 12.3 only from 12.25 up.
#[test]
fn zeros_are_kept() {
    assert_eq!(rounding::to_places(20.0, 1).text, "20.0");
    assert_eq!(rounding::to_figures(9.996, 3).text, "10.0");
    assert_eq!(rounding::to_figures(0.0, 3).text, "0.00");
    assert_eq!(rounding::to_places(-0.04, 1).text, "0.0");
    assert_eq!(rounding::to_figures(33_448.3, 3).text, "33400");
    assert_eq!(rounding::to_figures(123_456_789.0, 3).text, "1.23e8");
    assert_eq!(rounding::to_figures(0.000_012_34, 3).text, "1.23e-5");
    assert_eq!(rounding::to_step(20.13, 0.1).text, "20.1");
    assert_eq!(rounding::to_step(20.13, 0.2).text, "20.2");
    assert!((rounding::last_place("12.30") - 0.01).abs() < 1e-15);
    assert!((rounding::last_figure(15.12, 3) - 0.1).abs() < 1e-15);
}

#[test]
fn languages_write_their_own_signs() {
    let (en, de) = (Language::find("en").expect("English"), Language::find("DE").expect("German"));
    assert_eq!(en.notation.number("-12345.60"), "\u{2212}12\u{202F}345.60");
    assert_eq!(de.notation.number("1234.5"), "1234,5");
    assert_eq!(de.notation.number("1.23e-5"), "1,23·10⁻⁵");
}

#[test]
fn students_may_write_as_they_like() {
    for (text, value, figures, rest) in [
        ("1,5", 1.5, 2, ""),
        ("1.5 kJ", 1.5, 2, "kJ"),
        ("12 345,6", 12_345.6, 6, ""),
        ("12\u{202F}345", 12_345.0, 5, ""),
        ("1.234,5", 1234.5, 5, ""),
        ("1,234.5", 1234.5, 5, ""),
        ("1.2e3", 1200.0, 2, ""),
        ("1,2 x 10³", 1200.0, 2, ""),
        ("1.2·10^3 W", 1200.0, 2, "W"),
        ("1.2 * 10^-3", 0.0012, 2, ""),
        ("−4 °C", -4.0, 1, "°C"),
        ("3/4", 0.75, 1, ""),
        ("57.5%", 57.5, 3, "%"),
        ("0.0120", 0.012, 3, ""),
    ] {
        let read = Notation::read(text).unwrap_or_else(|error| panic!("{text}: {error}"));
        assert!((read.value - value).abs() < 1e-12 * value.abs(), "{text}: {}", read.value);
        assert_eq!((read.figures, read.rest.as_str()), (figures, rest), "{text}");
    }
    for text in ["", "about ten", "1.2.3", "1,2,3", "1/0"] {
        assert!(Notation::read(text).is_err(), "{text}");
    }
}

proptest! {
    /// Against decimal arithmetic of the crate `bigdecimal`, rounding half away from zero.
    #[test]
    fn rounding_agrees_with_decimal_arithmetic(digits in -99_999_999i64..99_999_999, scale in 0i64..8, places in 0usize..6) {
        use bigdecimal::{BigDecimal, RoundingMode, num_bigint::BigInt};
        let decimal = BigDecimal::new(BigInt::from(digits), scale);
        let number: f64 = decimal.to_string().parse().expect("a number");
        let wanted = decimal.with_scale_round(places as i64, RoundingMode::HalfUp);
        let found: BigDecimal = rounding::to_places(number, places).text.parse().expect("a decimal");
        prop_assert_eq!(found, wanted);
    }

    #[test]
    fn what_is_written_can_be_read(digits in -9_999_999i64..9_999_999, scale in 0usize..7) {
        let number = digits as f64 / 10f64.powi(scale as i32);
        let text = rounding::to_places(number, scale).text;
        for language in Language::all() {
            let read = Notation::read(&language.notation.number(&text)).expect("a number");
            prop_assert_eq!(read.value, text.parse::<f64>().expect("a number"));
        }
    }
}

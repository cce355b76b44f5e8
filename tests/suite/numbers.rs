//! Numbers: rounding, writing, reading.

use std::num::NonZeroU64;

use bigdecimal::{BigDecimal, RoundingMode, num_bigint::BigInt};
use labquire::{
    experiment::plan::Form,
    language::Language,
    quantity::{Unit, rounding},
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
        assert_eq!(rounding::Step::new(10.0).round(number).text, text, "{number}");
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

/// What is printed decides, not the arithmetic in kelvins: (28.2 °C − 27.1 °C) / 4 is 0.275 by hand, a tie, so 0.28; the
/// difference of the absolute temperatures falls short of it by 6e-14. What is truly below the tie stays below.
#[test]
fn a_difference_of_temperatures_keeps_its_tie() {
    let drift = ((28.2 + 273.15) - (27.1 + 273.15)) / 4.0;
    assert!(drift < 0.275);
    assert_eq!(Form::Places(2).round(drift).text, "0.28");
    assert_eq!(Form::Figures(2).round(drift).text, "0.28");
    assert_eq!(Form::Places(2).round(0.274_999_999).text, "0.27");
    assert_eq!(Form::Places(2).round(-drift).text, "-0.28");
    assert_eq!(Form::Figures(3).round(f64::NAN).text, "NaN");
}

/// Rounded once, never in steps: 12.249 to one place is 12.2, though by way of 12.25 it would be 12.3.
#[test]
fn a_number_is_rounded_once() {
    assert_eq!(rounding::to_places(12.249, 1).text, "12.2");
    assert_eq!(rounding::to_figures(12.249, 3).text, "12.2");
    assert_eq!(rounding::Step::new(0.1).round(12.249).text, "12.2");
}

#[test]
fn what_is_no_number_stays_none() {
    for (number, text) in [(f64::NAN, "NaN"), (f64::INFINITY, "inf"), (f64::NEG_INFINITY, "-inf")] {
        assert_eq!(rounding::to_places(number, 1).text, text);
        assert_eq!(rounding::to_figures(number, 3).text, text);
        assert!(!rounding::Step::new(0.1).round(number).value.is_finite());
    }
}

#[test]
fn zeros_are_kept() {
    assert_eq!(rounding::to_places(20.0, 1).text, "20.0");
    assert_eq!(rounding::to_figures(9.996, 3).text, "10.0");
    assert_eq!(rounding::to_figures(0.0, 3).text, "0.00");
    assert_eq!(rounding::to_places(-0.04, 1).text, "0.0");
    assert_eq!(rounding::to_figures(33_448.3, 3).text, "33400");
    assert_eq!(rounding::to_figures(123_456_789.0, 3).text, "1.23e8");
    assert_eq!(rounding::to_figures(0.000_012_34, 3).text, "1.23e-5");
    assert_eq!(rounding::Step::new(0.1).round(20.13).text, "20.1");
    assert_eq!(rounding::Step::new(0.2).round(20.13).text, "20.2");
    assert!(rounding::to_places(-0.04, 1).value.is_sign_positive());
}

#[test]
fn texts_tell_their_last_place_and_figures() {
    for (text, place, places, figures) in [
        ("12.30", 0.01, 2, 4),
        ("120", 1.0, 0, 3),
        ("1.23e8", 1e6, 2, 3),
        ("-0.0120", 1e-4, 4, 3),
        ("0.0", 0.1, 1, 1),
        ("5e-6", 1e-6, 0, 1),
    ] {
        assert_eq!(rounding::last_place(text), place, "{text}");
        assert_eq!((rounding::places(text), rounding::figures(text)), (places, figures), "{text}");
    }
    for (number, place) in [(15.12, 0.1), (9.996, 0.1), (9.994, 0.01), (-33_448.3, 100.0), (0.0, 0.01)] {
        assert_eq!(rounding::last_figure(number, 3), place, "{number}");
    }
}

#[test]
fn languages_write_their_own_signs() {
    let (en, de) = (Language::find("en").expect("English"), Language::find("DE").expect("German"));
    assert_eq!(en.notation.number("-12345.60"), "\u{2212}12\u{202F}345.60");
    assert_eq!(de.notation.number("1234.5"), "1234,5");
    assert_eq!(de.notation.number("1.23e-5"), "1,23·10⁻⁵");
    // ISO 80000-1, 7.1.4: a space between number and unit, but none before the sign of an angle; 7.3.1: groups.
    for (number, unit, text) in [
        ("12.5", "kJ/(kg K)", "12.5\u{202F}kJ/(kg·K)"),
        ("57", "%", "57\u{202F}%"),
        ("45", "deg", "45°"),
        ("-5", "°C", "\u{2212}5\u{202F}°C"),
        ("0.90", "", "0.90"),
        ("1234567", "J", "1\u{202F}234\u{202F}567\u{202F}J"),
    ] {
        assert_eq!(en.notation.quantity(number, &Unit::parse(unit).expect(unit)), text);
    }
}

proptest! {
    /// Against decimal arithmetic of the crate `bigdecimal`, rounding half away from zero.
    #[test]
    fn rounding_agrees_with_decimal_arithmetic(digits in -99_999_999i64..99_999_999, scale in 0i64..8, places in 0usize..6) {
        let decimal = BigDecimal::new(BigInt::from(digits), scale);
        let number: f64 = decimal.to_string().parse().expect("a number");
        let wanted = decimal.with_scale_round(places as i64, RoundingMode::HalfUp);
        let found: BigDecimal = rounding::to_places(number, places).text.parse().expect("a decimal");
        prop_assert_eq!(found, wanted);
    }

    /// The same for steps: the number of steps is rounded half away from zero in decimal arithmetic.
    #[test]
    fn steps_agree_with_decimal_arithmetic(
        digits in -9_999_999i64..9_999_999,
        scale in 0i64..6,
        step in prop::sample::select(vec!["0.01", "0.05", "0.1", "0.2", "0.25", "0.5", "1", "2", "5", "10"]),
    ) {
        let decimal = BigDecimal::new(BigInt::from(digits), scale);
        let exact: BigDecimal = step.parse().expect("a decimal");
        let wanted = (&decimal / &exact).with_scale_round(0, RoundingMode::HalfUp) * &exact;
        let number: f64 = decimal.to_string().parse().expect("a number");
        let rounded = rounding::Step::new(step.parse().expect("a number")).round(number);
        prop_assert_eq!(rounded.text.parse::<BigDecimal>().expect("a decimal"), wanted);
    }

    /// The same for significant figures; the text shows them all where they end behind the point.
    #[test]
    fn figures_agree_with_decimal_arithmetic(digits in 1i64..999_999_999, scale in 0i64..11, figures in 1usize..8) {
        let decimal = BigDecimal::new(BigInt::from(digits), scale);
        let wanted = decimal.with_precision_round(NonZeroU64::new(figures as u64).expect("at least one"), RoundingMode::HalfUp);
        let number: f64 = decimal.to_string().parse().expect("a number");
        let text = rounding::to_figures(number, figures).text;
        prop_assert_eq!(text.parse::<BigDecimal>().expect("a decimal"), wanted);
        if text.contains('.') {
            prop_assert_eq!(rounding::figures(&text), figures);
            prop_assert_eq!(rounding::last_place(&text), rounding::last_figure(number, figures));
        }
    }
}

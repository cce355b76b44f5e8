//! Numbers as students write them.

use labquire::{
    language::Language,
    quantity::{Notation, NumberError, rounding},
};
use proptest::prelude::*;

fn notation(code: &str) -> &'static Notation {
    &Language::find(code).expect(code).notation
}

#[test]
fn students_may_write_as_they_like() {
    for (text, value, figures, rest) in [
        ("1,5", 1.5, 2, ""),
        ("1.5 kJ", 1.5, 2, "kJ"),
        (",5", 0.5, 1, ""),
        ("0,234", 0.234, 3, ""),
        ("12 345,6", 12_345.6, 6, ""),
        ("12\u{202F}345", 12_345.0, 5, ""),
        ("1 234.567", 1234.567, 7, ""),
        ("1.234 567", 1.234_567, 7, ""),
        ("1.234,5", 1234.5, 5, ""),
        ("1,234.5", 1234.5, 5, ""),
        ("1,234,567", 1_234_567.0, 7, ""),
        ("1.234.567,8", 1_234_567.8, 8, ""),
        ("1234,567", 1234.567, 7, ""),
        ("1.2e3", 1200.0, 2, ""),
        ("1,2E+03", 1200.0, 2, ""),
        ("1,2 x 10³", 1200.0, 2, ""),
        ("1.2·10^3 W", 1200.0, 2, "W"),
        ("1.2 * 10^-3", 0.0012, 2, ""),
        ("1.2*10^(-3) m", 0.0012, 2, "m"),
        ("1.2*10**3", 1200.0, 2, ""),
        ("4 × 10\u{207B}\u{00B9}\u{00B2} m", 4e-12, 1, "m"),
        ("10^3 J", 1000.0, 1, "J"),
        ("10⁻³", 0.001, 1, ""),
        ("10 m²", 10.0, 2, "m²"),
        ("5 eV", 5.0, 1, "eV"),
        ("−4 °C", -4.0, 1, "°C"),
        ("3/4", 0.75, 1, ""),
        ("-1/0.5 h", -2.0, 1, "h"),
        ("12 /min", 12.0, 2, "/min"),
        ("57.5%", 57.5, 3, "%"),
        ("0.0120", 0.012, 3, ""),
        // Not read as powers: what is behind is left for the unit, which refuses it.
        ("5·100", 5.0, 1, "·100"),
        ("1.2·103", 1.2, 2, "·103"),
    ] {
        for language in Language::all() {
            let read = language.notation.parse_number(text).unwrap_or_else(|error| panic!("{text}: {error}"));
            assert!((read.value / value - 1.0).abs() < 1e-12, "{text}: {}", read.value);
            assert_eq!((read.figures, read.rest.as_str(), read.other), (figures, rest, None), "{text}");
        }
    }
}

#[test]
fn the_language_decides_where_a_sign_may_be_either() {
    for (text, code, value, other) in [
        ("1.234", "en", 1.234, None),
        ("1,234", "en", 1234.0, Some(1.234)),
        ("1,234", "de", 1.234, None),
        ("1.234", "de", 1234.0, Some(1.234)),
        ("-12.345", "de", -12_345.0, Some(-12.345)),
        ("1.234e3 J", "de", 1_234_000.0, Some(1234.0)),
    ] {
        let read = notation(code).parse_number(text).expect(text);
        assert_eq!((read.value, read.other), (value, other), "{text} in {code}");
    }
}

#[test]
fn what_is_no_number_is_refused() {
    for text in ["", "-", "about ten", ".", "W"] {
        assert_eq!(notation("en").parse_number(text), Err(NumberError::NoDigits(text.to_owned())), "{text}");
    }
    for text in ["1.2.3", "1,2,3", "1,2.3", "1234 567", "1.2,3.4", "0,12,345.6"] {
        assert_eq!(notation("en").parse_number(text), Err(NumberError::Ambiguous(text.to_owned())), "{text}");
    }
    assert!(matches!(notation("en").parse_number("1/0"), Err(NumberError::Zero(_))));
    assert!(matches!(notation("en").parse_number("1e400"), Err(NumberError::Large(_))));
    assert!(matches!(notation("en").parse_number(&"9".repeat(400)), Err(NumberError::Large(_))));
}

proptest! {
    #[test]
    fn what_is_printed_is_read_back(digits in -9_999_999_999i64..9_999_999_999, scale in 0i32..16) {
        let number = digits as f64 / 10f64.powi(scale);
        for text in [rounding::to_places(number, 3).text, rounding::to_figures(number, 5).text] {
            let value: f64 = text.parse().expect("a number");
            for language in Language::all() {
                let read = language.notation.parse_number(&language.notation.number(&text)).expect("a number");
                prop_assert_eq!((read.value, read.figures), (value, rounding::figures(&text)));
            }
        }
    }

    #[test]
    fn any_text_is_a_number_or_a_fault(text in "[-+0-9.,eEx×*^()/ °CW²³⁻\u{2212}\u{202F}]{0,14}") {
        for language in Language::all() {
            if let Ok(read) = language.notation.parse_number(&text) {
                prop_assert!(read.value.is_finite() && text.trim_end().ends_with(&read.rest));
            }
        }
    }
}

//! Quantities: a number with its unit, read and written.

use labquire::quantity::Quantity;
use proptest::prelude::*;

fn read(text: &str) -> Quantity {
    text.parse().unwrap_or_else(|error| panic!("{text}: {error}"))
}

#[test]
fn quantities_keep_their_zeros() {
    assert_eq!((read("0.90").text.as_str(), read("0.90").places()), ("0.90", 2));
    assert_eq!(read("20.0 °C").places(), 1);
    assert_eq!(read("250 g").places(), 0);
    assert_eq!(read(".5 m").text, "0.5");
    assert_eq!(read("1.20·10^3 W").text, "1.20e3");
}

/// Wanted values: the numbers times the factors of the SI brochure, tables 4 and 8; 0 °C is 273.15 K (2.3.1).
#[test]
fn values_are_carried_to_si() {
    for (text, si, base) in [
        ("250 g", 0.25, "kg"),
        ("0.90", 0.9, "1"),
        ("4.18 kJ/(kg K)", 4180.0, "m²·s⁻²·K⁻¹"),
        ("-5 °C", 268.15, "K"),
        ("\u{2212}5°C", 268.15, "K"),
        ("1.2e3 W", 1200.0, "kg·m²·s⁻³"),
        ("1.2·10^3 W", 1200.0, "kg·m²·s⁻³"),
        ("1.2 x 10⁻³ W", 0.0012, "kg·m²·s⁻³"),
        ("5 eV", 5.0 * 1.602_176_634e-19, "kg·m²·s⁻²"),
        ("5eV", 5.0 * 1.602_176_634e-19, "kg·m²·s⁻²"),
        ("12 %", 0.12, "1"),
        ("1.5 L/min", 0.0015 / 60.0, "m³·s⁻¹"),
        ("5 1/K", 5.0, "K⁻¹"),
        ("+3 mm", 0.003, "m"),
    ] {
        let quantity = read(text);
        assert!((quantity.si() / si - 1.0).abs() < 1e-12, "{text}: {}", quantity.si());
        assert_eq!(quantity.dimension().to_string(), base, "{text}");
    }
}

#[test]
fn faults_are_placed_and_mended() {
    for (text, part, hint) in [
        ("viel", "viel", "write a number and a unit, such as `250 g`"),
        ("1.2.3 W", "1.2.3 W", "write a number and a unit, such as `250 g`"),
        ("- W", "- W", "write a number and a unit, such as `250 g`"),
        ("0,25 kg", "0,25", "write a decimal point: `0.25`"),
        ("12 000 J", "12 000", "write it without a space: `12000`"),
        ("5 2 W", "5 2", "write it without a space: `52`"),
        ("5·100 W", "·", "write units such as `W/(m2 K)`"),
        ("12 grams", "grams", "write `g`"),
        ("4.18 kJ/(kg °C)", "°C", "write `K`: a compound counts temperature differences"),
        ("  4.18 kJ/kg/K", "/", "ISO 80000-1 asks for brackets: write `kJ/(kg K)`"),
        ("1e999 W", "1e999", "write a smaller number"),
    ] {
        let error = text.parse::<Quantity>().expect_err(text);
        assert_eq!(&text[error.span.clone()], part, "{error:?}");
        assert_eq!(error.hint.as_deref(), Some(hint), "{text}: {error}");
    }
}

#[test]
fn definitions_may_write_text_or_a_bare_number() {
    let list: Vec<Quantity> = serde_yaml::from_str("[250 g, 0.5, -3, \"0.90\", 20.0 °C]").expect("quantities");
    let text: Vec<String> = list.iter().map(Quantity::to_string).collect();
    assert_eq!(text, ["250 g", "0.5", "-3", "0.90", "20.0 °C"]);
    assert_eq!(serde_json::to_string(&list[4]).expect("text"), "\"20.0 °C\"");
    assert!(serde_yaml::from_str::<Quantity>(".inf").is_err());
    assert!(serde_yaml::from_str::<Quantity>("[1]").is_err());
}

proptest! {
    #[test]
    fn what_is_written_is_read_as_the_same_quantity(
        digits in -99_999i32..99_999,
        scale in 0usize..6,
        unit in prop::sample::select(vec!["", "g", "kJ/(kg K)", "°C", "°", "%", "W/m2", "1/K", "m^(1/2)"]),
    ) {
        let number = f64::from(digits) / 10f64.powi(scale as i32);
        let quantity = read(&format!("{number:.scale$} {unit}"));
        prop_assert_eq!(quantity.places(), scale);
        prop_assert_eq!(read(&quantity.to_string()), quantity);
    }

    #[test]
    fn any_text_is_a_quantity_or_a_placed_fault(text in "[-+0-9.,eE×^()/ °CWm²\u{2212}]{0,14}") {
        if let Err(error) = text.parse::<Quantity>() {
            prop_assert!(text.get(error.span.clone()).is_some(), "{error:?}");
        }
    }
}

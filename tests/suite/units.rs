//! Units: conversion, writing, faults.

use labquire::quantity::{Dimension, Exponent, Kind, Quantity, Unit};

use crate::reference::{number, rows};

/// Source: pint 0.24.4, tests/reference/units.py.
#[test]
fn conversions_agree_with_pint() {
    for row in rows("units.csv") {
        let unit = Unit::parse(&row[0]).unwrap_or_else(|error| panic!("{}: {error}", row[0]));
        let wanted = number(&row[1]);
        assert!((unit.to_si(1.0) / wanted - 1.0).abs() < 1e-12, "{}: {} against {wanted}", row[0], unit.to_si(1.0));
        assert!((unit.from_si(wanted) - 1.0).abs() < 1e-12);
    }
}

/// Source: SI brochure, 2.3.1: 0 °C is 273.15 K.
#[test]
fn temperatures_are_points_and_kelvins_are_differences() {
    let celsius = Unit::parse("°C").expect("a unit");
    assert_eq!(celsius.kind(), Kind::Point);
    assert!((celsius.to_si(25.0) - 298.15).abs() < 1e-12);
    assert!((celsius.from_si(298.15) - 25.0).abs() < 1e-12);
    assert_eq!(Unit::parse("K").expect("a unit").kind(), Kind::Plain);
    let error = Unit::parse("J/(kg °C)").expect_err("no scale in a compound");
    assert!(error.hint.expect("a hint").contains('K'));
}

/// Source: ISO 80000-1, 7.2: products with a half-high dot, one stroke, brackets below it.
#[test]
fn units_are_printed_as_the_standard_writes_them() {
    for (written, printed) in [
        ("kJ/(kg K)", "kJ/(kg·K)"),
        ("W/m2", "W/m²"),
        ("W/m^2", "W/m²"),
        ("kg m/s2", "kg·m/s²"),
        ("J kg^-1 K^-1", "J/(kg·K)"),
        ("1/K", "K⁻¹"),
        ("s⁻¹", "s⁻¹"),
        ("uF", "µF"),
        ("kohm", "kΩ"),
        ("deg", "°"),
        ("%", "%"),
        ("", ""),
        ("m^(1/2)", "m^(1/2)"),
    ] {
        let unit = Unit::parse(written).unwrap_or_else(|error| panic!("{written}: {error}"));
        assert_eq!(unit.print(), printed, "{written}");
        assert_eq!(Unit::parse(&unit.print()).expect(printed).dimension(), unit.dimension(), "{written} again");
    }
}

#[test]
fn faults_are_placed_and_mended() {
    for (written, span, hint) in [
        ("kJ/(kg Kel)", 7..10, ""),
        ("W/m2/K", 4..5, "brackets"),
        ("kj", 0..2, "`kJ`"),
        ("C°", 0..3, "`°C`"),
        ("W/(m2", 2..3, "`W/(m2)`"),
        ("m^x", 1..2, "powers"),
        ("W/", 2..2, "W/(m2 K)"),
    ] {
        let error = Unit::parse(written).expect_err(written);
        assert_eq!(error.span, span, "{written}: {error}");
        assert!(error.hint.unwrap_or_default().contains(hint), "{written}: {}", error.message);
    }
}

#[test]
fn exponents_are_exact() {
    let metre = Unit::parse("m").expect("a unit").dimension();
    let third = metre.pow(Exponent::new(1, 3));
    assert_eq!(third * third * third, metre);
    assert_eq!(Dimension::exponent(1.0 / 3.0), Some(Exponent::new(1, 3)));
    assert_eq!(Dimension::exponent(std::f64::consts::PI), None);
    assert_eq!((Unit::parse("W").expect("a unit").dimension()).to_string(), "kg·m²·s⁻³");
}

#[test]
fn quantities_keep_their_zeros() {
    let mass: Quantity = "250 g".parse().expect("a quantity");
    assert!((mass.si() - 0.25).abs() < 1e-15);
    let share: Quantity = "0.90".parse().expect("a quantity");
    assert_eq!((share.text.as_str(), share.places()), ("0.90", 2));
    let cold: Quantity = "-5 °C".parse().expect("a quantity");
    assert!((cold.si() - 268.15).abs() < 1e-12);
    let error = "12 grams".parse::<Quantity>().expect_err("no such unit");
    assert_eq!(&"12 grams"[error.span], "grams");
    assert!("viel".parse::<Quantity>().is_err());
    assert!("1e999 W".parse::<Quantity>().is_err());
}

//! Units: conversion, writing, faults.

use labquire::quantity::{Dimension, Exponent, Kind, Unit, UnitFault};
use proptest::{collection::vec, prelude::*, sample::select};

use crate::reference::{number, rows};

/// Source: pint 0.24.4, tests/reference/units.py.
#[test]
fn conversions_agree_with_pint() {
    for row in rows("units.csv") {
        let unit = Unit::parse(&row[0]).unwrap_or_else(|error| panic!("{}: {error}", row[0]));
        let wanted = number(&row[1]);
        assert!((unit.to_si(1.0) / wanted - 1.0).abs() < 1e-12, "{}: {} against {wanted}", row[0], unit.to_si(1.0));
        assert!((unit.from_si(wanted) - 1.0).abs() < 1e-12);
        let base = Unit::parse(&row[2]).expect("base units");
        assert_eq!(unit.dimension(), base.dimension(), "{}", row[0]);
        assert_eq!(base.scale(), 1.0, "{} are not base units", row[2]);
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
        ("kg·m·s^-2", "kg·m/s²"),
        ("W m⁻²", "W/m²"),
        ("(kg m)/s2", "kg·m/s²"),
        ("/min", "min⁻¹"),
        ("1 / (kg K)", "kg⁻¹·K⁻¹"),
        ("\u{2126}", "Ω"),
        ("μm", "µm"),
        ("W * s", "W·s"),
        ("m0", ""),
        ("1", ""),
    ] {
        let unit = Unit::parse(written).unwrap_or_else(|error| panic!("{written}: {error}"));
        assert_eq!(unit.print(), printed, "{written}");
        assert_eq!(Unit::parse(&unit.print()).expect(printed).dimension(), unit.dimension(), "{written} again");
    }
}

#[test]
fn faults_are_placed_and_mended() {
    use UnitFault::{Bracket, Power, Quotient, ScaleInCompound, Size, Unknown, Writing};
    for (written, fault, span, hint) in [
        ("kJ/(kg Quux)", Unknown, 7..11, "units are written by their symbols"),
        ("kj", Unknown, 0..2, "did you mean `kJ`?"),
        ("W/(m2 k)", Unknown, 6..7, "did you mean `K`?"),
        ("Mw", Unknown, 0..2, "did you mean `MW`?"),
        ("mbars", Unknown, 0..5, "did you mean `mbar`?"),
        ("kelvin", Unknown, 0..6, "write `K`"),
        ("W/Meter", Unknown, 2..7, "write `m`"),
        ("C°", Unknown, 0..3, "write `°C`"),
        ("J/(kg °C)", ScaleInCompound, 6..9, "write `K`"),
        ("°C2", ScaleInCompound, 0..3, "write `K`"),
        ("W/m2/K", Quotient, 4..5, "write `W/(m2 K)`"),
        ("J/kg K", Quotient, 5..6, "write `J/(kg K)`"),
        ("J/kg·K", Quotient, 4..6, "write `J/(kg·K)`"),
        ("J/(kg)/K", Quotient, 6..7, "asks for brackets"),
        ("W/(m2", Bracket, 5..5, "write a `)` behind `(m2`"),
        ("m^x", Power, 1..2, "write powers"),
        ("m^(1/0)", Power, 1..7, "write powers"),
        ("m^-2147483648", Power, 1..13, "write powers"),
        ("W/", Writing, 2..2, "W/(m2 K)"),
        ("kg·", Writing, 4..4, "W/(m2 K)"),
        ("·kg", Writing, 0..2, "W/(m2 K)"),
        ("W+J", Writing, 1..2, "write symbols"),
        ("Tm^99", Size, 0..5, "smaller power"),
    ] {
        let error = Unit::parse(written).expect_err(written);
        assert_eq!((error.fault, &error.span), (fault, &span), "{written}: {error}");
        assert!(error.hint.as_deref().unwrap_or_default().contains(hint), "{written}: {error:?}");
    }
}

/// A power of a power of a power is no dimension of anything, but must not stop the program.
#[test]
fn wild_exponents_do_not_overflow() {
    let metre = Unit::parse("m").expect("a unit").dimension();
    for exponent in [Exponent::new(999_999, 1), Exponent::new(-999_999, 1), Exponent::new(1, 12)] {
        let wild = (0..12).fold(metre, |dimension, _| dimension.pow(exponent));
        assert!(!wild.is_one() && wild != metre, "{wild}");
        assert_ne!(wild * metre / metre * wild, metre);
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

const SYMBOLS: &[&str] = &[
    "m", "g", "s", "A", "K", "mol", "cd", "Hz", "N", "Pa", "J", "W", "C", "V", "F", "Ω", "S", "Wb", "T", "H", "lm",
    "lx", "Bq", "Gy", "Sv", "kat", "rad", "L", "l", "bar", "Wh", "eV", "cal", "ohm",
];
const PREFIXES: &[&str] = &["", "E", "P", "T", "G", "M", "k", "h", "da", "d", "c", "m", "µ", "u", "n", "p", "f"];

prop_compose! {
    fn part()(symbol in select(SYMBOLS), prefix in select(PREFIXES), top in -4i32..5, bottom in 1i32..4) -> String {
        format!("{prefix}{symbol}^({top}/{bottom})")
    }
}

proptest! {
    #[test]
    fn what_is_printed_is_read_as_the_same_unit(above in vec(part(), 1..4), below in vec(part(), 0..3)) {
        let quotient = if below.is_empty() { String::new() } else { format!("/({})", below.join(" ")) };
        let unit = Unit::parse(&format!("{}{quotient}", above.join("·"))).expect("a unit");
        let again = Unit::parse(&unit.print()).expect("the same unit");
        prop_assert_eq!(again.print(), unit.print());
        prop_assert_eq!(again.dimension(), unit.dimension());
        prop_assert!((again.scale() / unit.scale() - 1.0).abs() < 1e-12);
    }

    #[test]
    fn any_text_is_a_unit_or_a_placed_fault(text in "[mKgW°C%/()^·.*0-9² ⁻µx-]{0,12}") {
        if let Err(error) = Unit::parse(&text) {
            prop_assert!(text.get(error.span.clone()).is_some(), "{error:?}");
            prop_assert!(error.hint.is_some());
        }
    }
}

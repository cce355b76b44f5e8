//! Formulas: values, dimensions, faults.

use std::collections::HashMap;

use labquire::{
    formula::{self, Scope, Shape, Type, Value, Values},
    quantity::{Quantity, Unit},
};

use crate::reference::{assert_near, number, rows};

struct Names(HashMap<&'static str, (Type, Value)>);

impl Names {
    /// Two columns of plain numbers, and quantities of a bench.
    fn new() -> Self {
        let t = [0.0, 4.0, 8.0, 12.0, 16.0, 20.0, 24.0, 28.0, 32.0, 40.0, 48.0, 60.0];
        let y = [18.6, 27.6, 34.7, 40.6, 45.1, 48.6, 51.3, 53.4, 55.0, 57.2, 58.5, 59.6];
        let mut names = Self(HashMap::new());
        names.column("t", "1", &t);
        names.column("y", "1", &y);
        names.column("time", "min", &t);
        names.column("T", "°C", &y);
        for (name, text) in
            [("m", "164 g"), ("c", "4.18 kJ/(kg K)"), ("A", "468 cm2"), ("G", "779 W/m2"), ("T_r", "18.6 °C")]
        {
            let quantity: Quantity = text.parse().expect(text);
            let found = Type { dimension: quantity.dimension(), kind: quantity.unit.kind(), shape: Shape::Scalar };
            names.0.insert(name, (found, Value::scalar(quantity.si())));
        }
        names
    }

    fn column(&mut self, name: &'static str, unit: &str, numbers: &[f64]) {
        let unit = Unit::parse(unit).expect(unit);
        let found = Type { dimension: unit.dimension(), kind: unit.kind(), shape: Shape::Column };
        self.0.insert(name, (found, Value::column(numbers.iter().map(|&number| unit.to_si(number)).collect())));
    }
}

impl Scope for Names {
    fn type_of(&self, name: &str) -> Option<Type> {
        self.0.get(name).map(|(found, _)| *found)
    }

    fn names(&self) -> Vec<&str> {
        let mut names: Vec<&str> = self.0.keys().copied().collect();
        names.sort_unstable();
        names
    }
}

impl Values for Names {
    fn value_of(&self, name: &str) -> Option<&Value> {
        self.0.get(name).map(|(_, value)| value)
    }
}

/// The value of a formula in a unit.
fn value(text: &str, unit: &str) -> f64 {
    let names = Names::new();
    let node = formula::parse(text).unwrap_or_else(|error| panic!("{text}: {error}"));
    let found = formula::check(&node, &names).unwrap_or_else(|errors| panic!("{text}: {errors:?}"));
    let unit = Unit::parse(unit).expect(unit);
    let wanted = Type { dimension: unit.dimension(), kind: unit.kind(), shape: Shape::Scalar };
    formula::expect(&node, found, wanted, "the answer", &names).unwrap_or_else(|error| panic!("{text}: {error}"));
    unit.from_si(formula::evaluate(&node, &names).unwrap_or_else(|error| panic!("{text}: {error}")).number())
}

/// Source: numpy and scipy, tests/reference/functions.py.
#[test]
fn functions_agree_with_numpy_and_scipy() {
    for row in rows("functions.csv") {
        assert_near(value(&row[0], "1"), number(&row[1]), 1e-7, &row[0]);
    }
}

/// Source: worked by hand: 0.164 kg · 4.18 kJ/(kg K) · 22.0 K = 15.08144 kJ; 779 W/m² · 0.0468 m² = 36.4572 W.
#[test]
fn units_are_carried() {
    assert_near(value("m * c * (at(T, time, 12 min) - first(T))", "kJ"), 15.081_44, 1e-12, "heat");
    assert_near(value("G * A", "W"), 36.457_2, 1e-12, "power");
    assert_near(value("m * c * 22 K / (12 min)", "W"), 15_081.44 / 720.0, 1e-12, "mean power");
    assert_near(value("first(T) + 10 K", "°C"), 28.6, 1e-12, "point and difference");
    assert_near(value("slope(T, time, 4 min, 20 min)", "K/min"), 1.31, 1e-12, "slope");
    assert_near(value("absolute(T_r)", "K"), 291.75, 1e-12, "absolute temperature");
    assert_near(value("sqrt(A)", "cm"), 21.633_307_652_783_937, 1e-12, "root of an area");
}

/// What is wrong, where, and how to mend it.
#[test]
fn faults_name_their_place_and_the_missing_factor() {
    for (text, part, message, hint) in [
        ("m * c * last(T)", "last(T)", "can not be multiplied", "difference"),
        ("m + c", "m + c", "a mass (kg) is added to a specific heat capacity", ""),
        ("T + T_r", "T + T_r", "added to a temperature", "difference"),
        ("m * q", "q", "unknown name `q`", "known here"),
        ("m * Gr", "Gr", "unknown name `Gr`", "did you mean `G`"),
        ("frist(T)", "frist", "unknown function `frist`", "did you mean `first`"),
        ("at(T, time)", "at(T, time)", "is given 2 arguments", "at(T, t, 10 min)"),
        ("at(T, time, 5 K)", "5 K", "is given a temperature difference", "at(T, t, 10 min)"),
        ("first(m)", "m", "is given a mass", "without `first`"),
        ("ln(m)", "m", "is given a mass", "ln(x)"),
        ("2 m * c", "m", "", ""),
        ("m c", "c", "no operation before it", "m * c"),
        ("m * (c", "(", "not closed", "add `)`"),
        ("m = 3", "=", "found `=`", "right-hand side"),
        ("1,5 * m", "1,5", "has a comma", "`1.5`"),
        ("T[3]", "[", "found `[`", "at(T, t, 10 min)"),
        ("m ^ c", "c", "an exponent is", ""),
        ("5 grm", "grm", "unknown unit `grm`", "gram"),
    ] {
        let names = Names::new();
        let errors = match formula::parse(text) {
            Ok(node) => match formula::check(&node, &names) {
                Ok(_) if message.is_empty() => continue,
                Ok(found) => panic!("{text} passed as {found:?}"),
                Err(errors) => errors,
            },
            Err(error) => vec![error],
        };
        let error = errors.first().expect(text);
        assert_eq!(&text[error.span.clone()], part, "{text}: {error}");
        assert!(error.message.contains(message), "{text}: {error}");
        let found = error.hint.clone().unwrap_or_default();
        assert!(hint == "gram" || found.contains(hint), "{text}: {found}");
    }
}

#[test]
fn the_answer_must_have_the_unit_that_is_asked_for() {
    let names = Names::new();
    let unit = Unit::parse("W").expect("a unit");
    let wanted = Type { dimension: unit.dimension(), kind: unit.kind(), shape: Shape::Scalar };
    let node = formula::parse("m * c * (last(T) - first(T))").expect("a formula");
    let found = formula::check(&node, &names).expect("sound");
    let error = formula::expect(&node, found, wanted, "the answer", &names).expect_err("an energy is no power");
    assert!(error.message.contains("an energy (J)") && error.message.contains("a power (W)"), "{error}");
    assert!(error.hint.expect("a hint").contains("divide by a time (s)"));
}

#[test]
fn many_draws_are_computed_at_once() {
    struct Draws(Value);
    impl Values for Draws {
        fn value_of(&self, _: &str) -> Option<&Value> {
            Some(&self.0)
        }
    }
    let draws = Draws(Value::lanes(Shape::Column, 3, vec![1.0, 2.0, 3.0, 10.0, 20.0, 30.0]));
    let node = formula::parse("mean(y) + 2 * (last(y) - first(y))").expect("a formula");
    assert_eq!(formula::evaluate(&node, &draws).expect("a value").data(), &[6.0, 60.0]);
}

/// By hand: 59.6 - 18.6 - 20, 150 g - 164 g, 18.6 - 20 in the first row.
#[test]
fn a_condition_tells_by_how_much_it_holds() {
    let names = Names::new();
    let margin = |text: &str| {
        let node = formula::parse(text).expect(text);
        let margin = formula::margin(&node, &names).expect(text);
        assert_eq!(formula::holds(&node, &names).expect(text), margin > 0.0, "{text}");
        margin
    };
    assert_near(margin("last(T) - first(T) >= 20 K"), 21.0, 1e-12, "above");
    assert_near(margin("m < 150 g"), -0.014, 1e-12, "below");
    assert_near(margin("T >= 20 °C"), -1.4, 1e-12, "the row where it holds least");
    let bare = formula::parse("last(T) - first(T)").expect("a formula");
    assert!(formula::margin(&bare, &names).is_err());
}

#[test]
fn a_row_without_a_number_leaves_a_condition_without_a_margin() {
    struct Column(Value);
    impl Values for Column {
        fn value_of(&self, _: &str) -> Option<&Value> {
            Some(&self.0)
        }
    }
    let column = Column(Value::column(vec![3.0, f64::NAN, 2.0]));
    let node = formula::parse("y > 1").expect("a condition");
    assert!(!formula::holds(&node, &column).expect("a value"));
    assert!(formula::margin(&node, &column).expect("a value").is_nan());
}

//! Working of column functions: the rows used and the numbers, as a reader sees them.

use labquire::{
    compose::Facts,
    experiment::{self, catalogue},
    formula::{self, working},
    key::Key,
    language::Language,
};

use crate::keys::sheet_by_hand;

/// The line in numbers, in words, for readings 19.4, 28.1, 35.1, 40.9 °C at 0, 4, 8, 12 min and on to 62.3 °C at 60 min.
fn spoken(formula: &str, code: &str) -> String {
    let source = catalogue::find("pumped-loop").expect("in the catalogue");
    let (experiment, _) = experiment::load(&source).expect("a sound definition");
    let variant = sheet_by_hand(&experiment);
    let key = Key::build(&experiment, &variant, "1").expect("keyed");
    let language = Language::find(code).expect("a language");
    let facts = Facts { experiment: &experiment, variant: &variant, key: &key, language };
    working::numbers(&formula::parse(formula).expect(formula), &facts).alt.replace('\u{202F}', " ")
}

/// By hand: the line through the four points has the slope 143/80 K/min and passes 30.875 °C at 6 min.
#[test]
fn a_slope_is_a_quotient_between_two_points_of_its_line() {
    assert_eq!(
        spoken("slope(T, t, 0 min, 12 min)", "en"),
        "open bracket 41.60 °C minus 20.15 °C close bracket divided by open bracket 12 min minus 0 min close bracket"
    );
    assert!(spoken("slope(T, t, 0 min, 12 min)", "de").contains("41,60 °C"));
    assert!(spoken("intercept(T, t, 0 min, 12 min)", "en").starts_with("20.15 °C minus open bracket 41.60 °C"));
}

/// A power of a quantity is not its number with a power of its unit.
#[test]
fn a_squared_quantity_stands_in_brackets() {
    assert_eq!(
        spoken("(U * I)^2 / U^2", "en").matches("open bracket").count(),
        spoken("(U * I)^2 / I", "en").matches("open bracket").count() + 1
    );
    assert!(
        spoken("U^2", "en").starts_with("open bracket 7.48 V close bracket to the power of 2"),
        "{}",
        spoken("U^2", "en")
    );
    assert!(spoken("2^2", "en").starts_with("2 to the power of 2"));
}

#[test]
fn fits_name_their_rows() {
    assert_eq!(spoken("limit(T, t)", "en"), "lim T at 0 min … 60 min");
    assert_eq!(spoken("time_constant(T, t)", "en"), "τ T at 0 min … 60 min");
}

#[test]
fn extremes_name_their_row() {
    assert_eq!(spoken("max(T)", "en"), "62.3 °C at 60 min");
    assert_eq!(spoken("min(T)", "de"), "19,4 °C bei 0 min");
}

#[test]
fn an_area_shows_its_first_and_last_trapezium() {
    let area = spoken("area(T, t, 0 min, 12 min)", "en");
    let parts = [
        "19.4 °C plus 28.1 °C",
        "divided by 2 times",
        "4 min minus 0 min",
        "…",
        "35.1 °C plus 40.9 °C",
        "12 min minus 8 min",
    ];
    let mut rest = area.as_str();
    for part in parts {
        let at = rest.find(part).unwrap_or_else(|| panic!("`{part}` in order in {area}"));
        rest = &rest[at + part.len()..];
    }
}

#[test]
fn a_mean_is_a_sum_over_its_number() {
    assert!(spoken("mean(T)", "en").starts_with("open bracket 19.4 °C plus 28.1 °C plus … plus 62.3 °C close bracket"));
}

/// Zero of the Celsius scale: SI brochure, 2.3.1.
#[test]
fn an_absolute_temperature_shows_what_is_added() {
    assert_eq!(spoken("absolute(first(T))", "en"), "open bracket 19.4 °C plus 273.15 K close bracket");
    assert!(spoken("1 - absolute(first(T)) / absolute(last(T))", "de").contains("62,3 °C plus 273,15 K"));
}

//! The form of a file: places in YAML and faults against a schema. In: small wrong files and the messages beside them.
//! Out: pass or fail. The formats here are made up for the tests; lines and columns were counted by hand.

use std::{collections::BTreeMap, sync::Arc};

use labquire::{
    experiment::{
        Path, PlaceMap,
        structure::{self, Format, FormatFault},
    },
    report::{Place, Problem, Problems, Source, json, show},
};
use proptest::prelude::*;
use schemars::JsonSchema;
use serde::Deserialize;
use serde_json::Value;

use crate::faults;

#[derive(Debug, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
#[allow(dead_code)]
struct Lab {
    title: BTreeMap<String, String>,
    /// Lower-case letters and hyphens.
    #[schemars(regex(pattern = "^[a-z-]+$"))]
    id: String,
    #[schemars(range(min = 1, max = 600))]
    minutes: u32,
    level: Level,
    mode: Mode,
    told: bool,
    #[schemars(range(min = 0, max = 1))]
    ratio: f64,
    #[schemars(length(max = 3), extend("uniqueItems" = true))]
    hazards: Vec<String>,
    #[schemars(extend("propertyNames" = { "pattern": "^[a-z_]+$" }))]
    parts: BTreeMap<String, Part>,
    flow: Flow,
    #[schemars(length(min = 1))]
    tasks: Vec<Task>,
    #[serde(default)]
    shade: Option<Mode>,
    #[serde(default)]
    source: Option<Light>,
    #[serde(default)]
    small: u8,
    #[serde(default)]
    odd: Odd,
}

#[derive(Debug, Deserialize, JsonSchema)]
#[serde(rename_all = "lowercase")]
enum Level {
    /// Lower school.
    Lower,
    /// Upper school.
    Upper,
}

#[derive(Debug, Deserialize, JsonSchema)]
#[serde(rename_all = "lowercase")]
enum Mode {
    Pumped,
    Thermosiphon,
    Green,
}

#[derive(Debug, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
#[allow(dead_code)]
struct Part {
    name: BTreeMap<String, String>,
    #[schemars(extend("format" = "power"))]
    power: String,
}

#[derive(Debug, Deserialize, JsonSchema)]
#[serde(tag = "kind", rename_all = "lowercase", deny_unknown_fields)]
#[allow(dead_code)]
enum Flow {
    /// The same all the time.
    Steady { rate: f64 },
    /// On and off.
    Pulsed { rate: f64, period: f64 },
}

#[derive(Debug, Deserialize, JsonSchema)]
#[serde(rename_all = "lowercase")]
#[allow(dead_code)]
enum Light {
    Sun(f64),
    Lamp(f64),
}

#[derive(Debug, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
#[schemars(extend("oneOf" = [{ "required": ["number"] }, { "required": ["text"] }]))]
#[allow(dead_code)]
struct Task {
    id: String,
    #[serde(default)]
    number: Option<Number>,
    #[serde(default)]
    text: Option<Words>,
}

#[derive(Debug, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
#[allow(dead_code)]
struct Number {
    #[schemars(length(min = 1))]
    formula: String,
    figures: u32,
}

#[derive(Debug, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
#[allow(dead_code)]
struct Words {
    lines: u32,
}

/// A number that only its type knows to be odd.
#[derive(Debug, Default, Deserialize, JsonSchema)]
#[serde(try_from = "i64")]
#[schemars(with = "i64")]
struct Odd;

impl TryFrom<i64> for Odd {
    type Error = String;

    fn try_from(number: i64) -> Result<Self, String> {
        if number % 2 == 0 { Err(format!("`{number}` is even")) } else { Ok(Self) }
    }
}

/// Powers in watts, such as `5 W`.
fn read_power(text: &str) -> Result<(), FormatFault> {
    let (_, unit) = text.trim_end().split_once(' ').unwrap_or((text, ""));
    if unit == "W" {
        return Ok(());
    }
    let start = text.find(unit).unwrap_or(0);
    Err(FormatFault {
        message: format!("unknown unit `{unit}`"),
        hint: Some("did you mean `W`?".to_owned()),
        span: start..start + unit.len(),
    })
}

const FORMATS: &[Format] = &[Format { name: "power", read: read_power }];

fn schema() -> Value {
    schemars::schema_for!(Lab).to_value()
}

/// All that is wrong with a text.
fn problems(source: &Arc<Source>) -> Problems {
    let places = match PlaceMap::read(source) {
        Ok(places) => places,
        Err(problems) => return problems,
    };
    let problems = structure::check(&places, &schema(), FORMATS);
    match serde_yaml::from_str::<Lab>(&source.text) {
        Err(error) if problems.is_empty() => vec![structure::serde_problem(&places, &error)],
        _ => problems,
    }
}

fn read(name: &str) -> Arc<Source> {
    faults::source("structure", name)
}

/// Line, column, end line and end column of each problem.
fn located(problems: &[Problem]) -> Vec<[u64; 4]> {
    let all = json(problems);
    let number = |one: &Value, key: &str| one[key].as_u64().expect("a located problem");
    let place = |one: &Value| ["line", "column", "end_line", "end_column"].map(|key| number(one, key));
    all.as_array().expect("a list").iter().map(place).collect()
}

/// The text under a place.
fn under(place: Place) -> String {
    match place {
        Place::Text(source, span) => source.text[span].to_owned(),
        other => panic!("not in a text: {other:?}"),
    }
}

#[test]
fn every_fault_has_its_message() {
    faults::compare("structure", problems);
}

#[test]
fn a_right_file_has_no_problem() {
    assert_eq!(problems(&Source::new("right.yaml", RIGHT)), []);
    assert_eq!(problems(&Source::new("right.yaml", RIGHT.replace('\n', "\r\n"))), []);
    assert_eq!(problems(&Source::new("right.yaml", format!("\u{feff}{RIGHT}"))), []);
}

/// Words that other readers of YAML take for truths are texts here.
#[test]
fn yes_and_no_are_texts() {
    for word in ["yes", "no", "on", "off", "Yes", "y", "n"] {
        let text = RIGHT.replace("Warm water", word);
        assert_eq!(problems(&Source::new("right.yaml", text.clone())), [], "{word}");
        let lab: Lab = serde_yaml::from_str(&text).expect("a right file");
        assert_eq!(lab.title["en"], word);
    }
}

/// Lines and columns counted by hand in the files.
#[test]
fn places_are_where_the_fault_is() {
    let cases: [(&str, &[[u64; 4]]); 14] = [
        ("unknown-field", &[[6, 1, 6, 8]]),
        ("missing-field", &[[1, 1, 1, 6]]),
        ("missing-field-in-map", &[[12, 3, 12, 7]]),
        ("unknown-field-behind-umlauts", &[[15, 43, 15, 49]]),
        ("quantity", &[[14, 16, 14, 19]]),
        ("quantity-with-windows-line-ends", &[[14, 16, 14, 19]]),
        ("quantity-behind-umlauts", &[[16, 60, 16, 63]]),
        ("quantity-in-block-text", &[[15, 11, 15, 14]]),
        ("two-of-a-group", &[[28, 5, 28, 11]]),
        ("nothing-in-list", &[[12, 3, 12, 4]]),
        ("tab", &[[13, 1, 13, 2]]),
        ("byte-order-mark", &[[5, 10, 5, 14]]),
        ("refused-by-its-type", &[[9, 6, 9, 7]]),
        ("several-faults", &[[5, 10, 5, 14], [6, 8, 6, 12], [25, 7, 25, 13]]),
    ];
    for (name, expected) in cases {
        assert_eq!(located(&problems(&read(name))), expected, "{name}");
    }
}

#[test]
fn both_places_of_a_repeated_key_are_given() {
    let all = json(&problems(&read("key-given-twice")));
    let lines = |one: &Value| (one["line"].as_u64(), one["also"][0]["line"].as_u64());
    let found: Vec<_> = all.as_array().expect("a list").iter().map(lines).collect();
    assert_eq!(found, [(Some(10), Some(6)), (Some(22), Some(20))]);
}

#[test]
fn a_path_prints_as_it_would_be_said() {
    let path = Path::root().key("tasks").index(3).key("number").key("T end");
    assert_eq!(path.to_string(), "tasks[3].number.\"T end\"");
    assert_eq!(path, Path::from("/tasks/3/number/T end"));
    assert_eq!(Path::from("/a~1b/~0c"), Path::root().key("a/b").key("~c"));
    assert_eq!(Path::root().to_string(), "");
    let places = PlaceMap::read(&Source::new("a.yaml", "5: [x, y]\n007: z\n")).expect("plain YAML");
    assert_eq!(under(places.value("/5/1")), "y");
    assert_eq!(under(places.value("/007")), "z");
}

#[test]
fn a_path_that_leads_nowhere_has_the_place_of_what_is_around_it() {
    let places = PlaceMap::read(&Source::new("right.yaml", RIGHT)).expect("plain YAML");
    assert_eq!(under(places.key("/parts/lamp/colour/0")), "lamp");
    assert_eq!(under(places.value("/minutes/0")), "45");
    assert_eq!(places.keys_below("/parts"), ["lamp", "vessel"]);
}

/// Each `word` stands in the value; the text beside it is how the file writes it.
#[test]
fn words_of_a_text_are_found_in_every_style() {
    let cases = [
        ("a: größer als T_end  # c\n", "T_end", "T_end"),
        ("a: 'it''s T_end'\n", "it's", "it''s"),
        ("a: \"\\u00e4\\n\\\"b\\\" T_end\"\n", "T_end", "T_end"),
        ("a: \"x \\\"b\\\" y\"\n", "\"b\"", "\\\"b\\\""),
        ("a: \"one \\\n  two\"\n", "two", "two"),
        ("a: one\n  two\n\n  three four\n", "four", "four"),
        ("a: |\n  one\n    two é\n\n  three\n", "three", "three"),
        ("a: |\r\n  one\r\n  two\r\n", "two", "two"),
        ("a: >-\n  one\n  two\n\n  three\n", "three", "three"),
        ("a: |2\n    one\n   two\n", "two", "two"),
        ("a: | # words\n  one\n", "one", "one"),
    ];
    for (text, word, written) in cases {
        let value: BTreeMap<String, String> = serde_yaml::from_str(text).expect("a right text");
        let at = value["a"].find(word).expect("the word");
        let places = PlaceMap::read(&Source::new("a.yaml", text)).expect("plain YAML");
        assert_eq!(under(places.inside("/a", &(at..at + word.len()))), written, "{text:?}");
    }
}

/// Random texts with characters that YAML must quote.
fn words() -> impl Strategy<Value = String> {
    proptest::string::string_regex("[a-zäß温 :#'\"\\\\,\\[\\]{}&*!|>%@`\n-]{0,12}").expect("a pattern")
}

fn documents() -> impl Strategy<Value = Value> {
    let leaf = prop_oneof![
        words().prop_map(Value::from),
        any::<i32>().prop_map(Value::from),
        any::<bool>().prop_map(Value::from)
    ];
    leaf.prop_recursive(4, 24, 4, |inner| {
        prop_oneof![
            prop::collection::vec(inner.clone(), 1..4).prop_map(Value::from),
            prop::collection::btree_map(words().prop_map(|key| key.replace('\n', "")), inner, 1..4)
                .prop_map(|map| map.into_iter().collect()),
        ]
    })
}

/// Every key and every value stands where the map says: what is written there reads as the same value.
fn agree(places: &PlaceMap, path: &Path, value: &Value) -> Result<(), TestCaseError> {
    match value {
        Value::Object(fields) => {
            for (key, inner) in fields {
                let path = path.clone().key(key);
                let written = under(places.key(&path));
                prop_assert_eq!(serde_yaml::from_str::<String>(&written).ok(), Some(key.clone()), "{}", written);
                agree(places, &path, inner)?;
            }
        }
        Value::Array(items) => {
            for (index, inner) in items.iter().enumerate() {
                agree(places, &path.clone().index(index), inner)?;
            }
        }
        Value::String(text) => {
            for (at, sign) in text.char_indices().filter(|(_, sign)| !matches!(sign, ' ' | '\n')) {
                let written = under(places.inside(path, &(at..at + sign.len_utf8())));
                let escaped = serde_yaml::from_str(&format!("\"{written}\"")).unwrap_or_default();
                prop_assert!(
                    [&written, &escaped].contains(&&sign.to_string()) || written == "''",
                    "{text:?} {written:?}"
                );
            }
        }
        scalar => {
            let written = under(places.value(path));
            prop_assert_eq!(&serde_yaml::from_str::<Value>(&written).expect("a scalar"), scalar);
        }
    }
    Ok(())
}

proptest! {
    #[test]
    fn places_agree_with_values(document in documents()) {
        let text = serde_yaml::to_string(&serde_json::json!({ "top": document })).expect("YAML");
        let places = PlaceMap::read(&Source::new("a.yaml", text.clone())).map_err(|all| TestCaseError::fail(format!("{text}\n{}", show(&all, false))))?;
        agree(&places, &Path::root().key("top"), &document)?;
    }

    /// Whatever stands in a file, it gets problems or none, and they can be shown.
    #[test]
    fn no_text_stops_the_program(
        parts in prop::collection::vec(prop_oneof![words(), Just("\n  ".to_owned()), Just(": ".to_owned()), Just("- ".to_owned()), Just("\r\n".to_owned()), Just("\t".to_owned()), Just("\u{2028}".to_owned()), Just("\u{0}".to_owned()), Just("title:\n  ".to_owned())], 0..12),
    ) {
        let source = Source::new("a.yaml", parts.concat());
        let all = problems(&source);
        prop_assert!(!all.is_empty());
        prop_assert!(show(&all, true).contains("error"));
        json(&all);
    }

    /// A right file with some characters lost or changed is right or gets problems that can be shown.
    #[test]
    fn no_slip_stops_the_program(at in 0..RIGHT.chars().count(), length in 0_usize..6, instead in words()) {
        let text: String = RIGHT.chars().take(at).chain(instead.chars()).chain(RIGHT.chars().skip(at + length)).collect();
        let all = problems(&Source::new("a.yaml", text));
        prop_assert_eq!(show(&all, false).is_empty(), all.is_empty());
    }
}

const RIGHT: &str = "\
title:
  en: Warm water
  de: Wärmeres Wasser
id: warm-water
minutes: 45
level: lower
mode: pumped
told: true
ratio: 0.5
hazards: [hot, wet]
parts:
  lamp:
    name: {en: lamp, de: Lampe}
    power: 120 W
  vessel:
    name: {en: vessel, de: Gefäß}
    power: 0 W
flow:
  kind: steady
  rate: 2
tasks:
  - id: rise
    number:
      formula: T_end - T_start
      figures: 3
  - id: why
    text: {lines: 4}
";

//! The audit: what it counts and measures, against the record and against cases done by hand.

use std::path::Path;

use labquire::commands::Ending;
use serde_json::Value;
use tempfile::TempDir;

use crate::set::labquire;

/// A report as JSON; its PDF is written into `dir`.
fn audit(dir: &Path, subject: &str, more: &[&str]) -> Value {
    let pdf = dir.join("audit.pdf");
    let mut words = vec!["audit", subject, "--json", "--out", pdf.to_str().expect("text")];
    words.extend(more);
    let (ending, out, err) = labquire(&words);
    assert_eq!(ending, Ending::Done, "{err}");
    assert!(std::fs::read(&pdf).expect("a PDF").starts_with(b"%PDF-1."), "no PDF");
    serde_json::from_str(&out).expect("JSON")
}

fn class(dir: &Path, count: usize) -> String {
    let file = dir.join("class.csv");
    let rows: String = (1..=count).map(|id| format!("{id},Student {id}\n")).collect();
    std::fs::write(&file, format!("id,name\n{rows}")).expect("a class file");
    file.to_str().expect("text").to_owned()
}

/// A definition with one numeric task, from drawn length `a` (cm) and the readings of a water's temperature.
fn definition(dir: &Path, from: &str, to: &str, number: &str) -> String {
    let source = labquire::experiment::catalogue::find("cooling-curve").expect("in the catalogue");
    let mut text: serde_yaml::Value = serde_yaml::from_str(&source.text).expect("YAML");
    let drawn = text["drawn"].as_mapping_mut().expect("drawn quantities");
    let only: Vec<String> = drawn.keys().map(|key| key.as_str().expect("a name").to_owned()).collect();
    for name in &only {
        let entry = drawn[name.as_str()].as_mapping_mut().expect("a quantity");
        entry.insert("told".into(), true.into());
    }
    let mass = drawn["m"].as_mapping_mut().expect("the mass");
    for (key, value) in [("from", from), ("to", to), ("step", "1 g")] {
        mass.insert(key.into(), value.into());
    }
    let task: serde_yaml::Value = serde_yaml::from_str(number).expect("YAML");
    text["tasks"] = serde_yaml::Value::Sequence(vec![task]);
    text["conditions"] = serde_yaml::Value::Sequence(Vec::new());
    let path = dir.join("own.yaml");
    std::fs::write(&path, serde_yaml::to_string(&text).expect("YAML")).expect("a file");
    path.to_str().expect("text").to_owned()
}

const DOUBLE: &str =
    "{id: twice, ask: {en: Double the mass., de: Verdopple die Masse.}, marks: {method: 1, accuracy: 1, unit: 1},
  number: {symbol: M, formula: 2 * m, unit: g, figures: 3}}";

/// Masses of 100 to 109 g, doubled: answers 200, 202, ... 218 g, each accepted to the last figure. Ten students can have an
/// answer that nobody else has, an eleventh can not; each answer has three figures and rests on no reading.
#[test]
fn ten_different_answers_carry_ten_students() {
    let dir = TempDir::new().expect("a temporary folder");
    let own = definition(dir.path(), "100 g", "109 g", DOUBLE);
    let class = class(dir.path(), 30);
    let report = audit(dir.path(), &own, &["--class", &class]);
    let edition = &report["editions"][0];
    assert_eq!(edition["capacity"]["least"], 10);
    assert_eq!(edition["capacity"]["most"], 10);
    assert_eq!(edition["sheets"].as_array().expect("sheets").len(), 30);
    assert_eq!(edition["pairs"]["count"], 870);
    // Ten are apart; each of the other twenty shares an answer with one of them or more.
    assert!(edition["pairs"]["above"].as_u64().expect("a count") >= 40);
    assert_eq!(edition["pairs"]["worst"][0]["share"], 1.0);
    let measures = edition["tasks"][0]["measures"].as_array().expect("measures");
    let of = |aspect: &str| measures.iter().find(|measure| measure["aspect"] == aspect);
    assert_eq!(of("figures").expect("figures")["least"], 3.0);
    assert_eq!(of("figures").expect("figures")["most"], 3.0);
    let size = of("size").expect("size");
    assert!(size["least"].as_f64() >= Some(200.0) && size["most"].as_f64() <= Some(218.0), "{size}");
    assert!(of("rows").is_none() && of("signal").is_none() && of("graph").is_none());
    let (ending, _, err) = labquire(&[
        "make",
        &own,
        "--class",
        &class,
        "--pdf",
        "plain",
        "--out",
        dir.path().join("set").to_str().expect("text"),
    ]);
    assert_eq!(ending, Ending::Done);
    assert!(err.contains("only 10 of the 30 sheets") && err.contains("--versions 10"), "{err}");
}

/// The difference of two readings of one thermometer: it rests on two rows, and its noise is that of a reading times √2.
#[test]
fn rows_and_noise_of_a_difference() {
    let dir = TempDir::new().expect("a temporary folder");
    let number = "{id: drop, ask: {en: How far did it cool?, de: Wie weit kühlte es ab?}, marks: {method: 1, accuracy: 1, unit: 1},
      number: {symbol: D, formula: first(T) - last(T), unit: K, places: 1}}";
    let own = definition(dir.path(), "100 g", "200 g", number);
    let (experiment, _) =
        labquire::experiment::load(&labquire::experiment::catalogue::find(&own).expect("a file")).expect("sound");
    let noise = experiment.columns.iter().find(|column| column.id == "T").expect("a column").instrument.repeatability();
    let class = class(dir.path(), 12);
    let report = audit(dir.path(), &own, &["--class", &class]);
    let task = &report["editions"][0]["tasks"][0];
    let measures = task["measures"].as_array().expect("measures");
    let of = |aspect: &str| measures.iter().find(|measure| measure["aspect"] == aspect).expect(aspect);
    assert_eq!((of("rows")["least"].as_f64(), of("rows")["most"].as_f64()), (Some(2.0), Some(2.0)));
    let answers = task["answers"].as_array().expect("answers");
    let least = answers
        .iter()
        .map(|one| one.as_str().expect("text").parse::<f64>().expect("a number"))
        .fold(f64::INFINITY, f64::min);
    let signal = of("signal")["least"].as_f64().expect("a ratio");
    assert!((signal / (least / (noise * 2f64.sqrt())) - 1.0).abs() < 1e-6, "{signal} for {least} K and {noise} K");
}

#[test]
fn bounds_of_the_definition_are_the_ones_that_count() {
    let dir = TempDir::new().expect("a temporary folder");
    let narrow = DOUBLE.replace("figures: 3}", "figures: 3, fairness: {size: 1.01}}");
    let own = definition(dir.path(), "100 g", "200 g", &narrow);
    let class = class(dir.path(), 12);
    let (ending, out, _) =
        labquire(&["audit", &own, "--class", &class, "--out", dir.path().join("a.pdf").to_str().expect("text")]);
    assert_eq!(ending, Ending::Done);
    assert!(out.contains('*') && out.contains("1 measures out of bounds"), "{out}");
    let (_, _, err) = labquire(&["check", &own]);
    assert!(err.contains("`twice`") && err.contains("times"), "{err}");
    let wrong = definition(
        dir.path(),
        "100 g",
        "200 g",
        &DOUBLE.replace("figures: 3}", "figures: 3, fairness: {size: 0.5, graf: 1}}"),
    );
    let (ending, _, err) = labquire(&["check", &wrong]);
    assert_eq!(ending, Ending::Input);
    assert!(err.contains("graf") && err.contains("0.5"), "both faults at once: {err}");
}

/// A printed set's audit is that of its class and seed, and it is the one of the record, whatever the definition says now.
#[test]
fn a_set_is_audited_from_its_record() {
    let dir = TempDir::new().expect("a temporary folder");
    let file = class(dir.path(), 15);
    let set = dir.path().join("set");
    let set = set.to_str().expect("text");
    let (ending, _, err) =
        labquire(&["make", "mixing", "--class", &file, "--seed", "fixed", "--pdf", "plain", "--out", set]);
    assert_eq!(ending, Ending::Done, "{err}");
    let of_set = audit(dir.path(), set, &[]);
    let fresh = audit(dir.path(), "mixing", &["--class", &file, "--seed", "fixed"]);
    assert_eq!(of_set, fresh);
    // The shares again, from the record alone.
    let record: Value =
        serde_json::from_slice(&std::fs::read(format!("{set}/set.json")).expect("a record")).expect("JSON");
    let students = record["students"].as_array().expect("students");
    let edition = &of_set["editions"][0];
    let (mut most, mut all) = (0.0, 0.0);
    for (row, from) in students.iter().enumerate() {
        for (column, on) in students.iter().enumerate().filter(|(column, _)| *column != row) {
            let (mut earned, mut marks) = (0.0, 0.0);
            for (task, answer) in on["answers"].as_object().expect("answers") {
                let Some(accept) = answer.get("accept") else { continue };
                let copied = &from["answers"][task];
                let printed: f64 = copied["text"]
                    .as_str()
                    .expect("text")
                    .split(' ')
                    .next()
                    .expect("a number")
                    .parse()
                    .expect("a number");
                let own = answer["marks"].as_f64().expect("marks");
                let holds = |value: f64| accept[0].as_f64() <= Some(value) && Some(value) <= accept[1].as_f64();
                marks += own;
                earned += if holds(printed) || holds(copied["value"].as_f64().expect("a value")) { own } else { 0.0 };
            }
            let share: f64 = earned / marks;
            assert!((edition["pairs"]["shares"][row][column].as_f64().expect("a share") - share).abs() < 1e-12);
            most = f64::max(most, share);
            all += share;
        }
    }
    assert!((edition["pairs"]["most"].as_f64().expect("a share") - most).abs() < 1e-12);
    assert!((edition["pairs"]["mean"].as_f64().expect("a share") - all / 210.0).abs() < 1e-12);
}

#[test]
fn a_bound_that_is_no_number_is_refused() {
    let dir = TempDir::new().expect("a temporary folder");
    let own = definition(
        dir.path(),
        "100 g",
        "200 g",
        &DOUBLE.replace("figures: 3}", "figures: 3, fairness: {signal: .nan}}"),
    );
    let (ending, _, err) = labquire(&["check", &own]);
    assert_eq!(ending, Ending::Input);
    assert!(err.contains("`signal` is no number"), "{err}");
}

#[test]
fn what_is_no_set_is_said_so() {
    let dir = TempDir::new().expect("a temporary folder");
    let (ending, _, err) =
        labquire(&["audit", dir.path().to_str().expect("text"), "--class", "9b.csv", "--versions", "3"]);
    assert_eq!(ending, Ending::Input);
    assert!(err.contains("`--class`") && err.contains("`--versions`") && !err.contains("`--seed`"), "{err}");
    let (ending, _, err) = labquire(&["audit", dir.path().to_str().expect("text")]);
    assert_eq!(ending, Ending::Input);
    assert!(err.contains("set.json") && err.contains("labquire make"), "{err}");
    let (ending, _, err) = labquire(&["audit", "pumped-lop"]);
    assert_eq!(ending, Ending::Input);
    assert!(err.contains("`pumped-loop`"), "{err}");
}

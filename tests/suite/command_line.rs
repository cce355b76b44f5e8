//! The command line: endings, streams, messages.

use labquire::{commands::Ending, experiment::catalogue};
use serde_json::Value;

use crate::set::labquire;

#[test]
fn help_and_version_are_results() {
    for words in [&["--help"][..], &["--version"], &["make", "--help"], &["simulate", "--help"]] {
        let (ending, out, err) = labquire(words);
        assert_eq!((ending, err.as_str()), (Ending::Done, ""), "{words:?}");
        assert!(out.contains("labquire"), "{words:?}");
    }
    let (_, out, _) = labquire(&["make", "--help"]);
    assert!(out.contains("Example:"), "{out}");
}

#[test]
fn wrong_usage_and_wrong_input_end_differently() {
    for words in [&["mkae"][..], &["make"], &["make", "pumped-loop", "--paper", "a5"], &["list", "--jsno"]] {
        let (ending, out, err) = labquire(words);
        assert_eq!((ending.code(), out.as_str()), (2, ""), "{words:?}");
        assert!(!err.is_empty());
    }
    for (words, message) in [
        (&["make", "pumped-lop"][..], "did you mean `pumped-loop`"),
        (&["show", "nothing-like-it"], "labquire list"),
        (&["make", "pumped-loop", "--class", "no-such.csv"], "can not be read"),
        (&["list", "--lang", "xx"], "known are en, de"),
        (&["check", "no-such.yaml"], "can not be read"),
    ] {
        let (ending, _, err) = labquire(words);
        assert_eq!(ending.code(), 1, "{words:?}: {err}");
        assert!(err.contains(message), "{words:?}: {err}");
    }
}

#[test]
fn list_and_show_speak_json() {
    let (_, out, _) = labquire(&["list", "--json"]);
    let list: Value = serde_json::from_str(&out).expect("JSON");
    let row = list.as_array().expect("a list").iter().find(|row| row["id"] == "pumped-loop").expect("pumped-loop");
    assert_eq!(row["bench"], "pumped-loop");
    assert!(row["minutes"].is_u64() && row["levels"].is_array() && row["title"].is_string());
    let (_, out, _) = labquire(&["show", "pumped-loop", "--json", "--lang", "de"]);
    let show: Value = serde_json::from_str(&out).expect("JSON");
    assert_eq!(show["title"], "Wasser mit Licht erwärmen");
    assert!(show["tasks"].as_array().expect("tasks").len() >= 10);
    let (_, out, _) = labquire(&["show", "pumped-loop"]);
    assert!(out.contains("Heating water with light") && out.contains("Hot lamp"), "{out}");
}

#[test]
fn simulate_gives_states_readings_and_a_closed_ledger() {
    let (ending, out, err) =
        labquire(&["simulate", "pumped-loop", "--set", "m=150 g", "--set", "flow=4 g/s", "--seed", "x"]);
    assert_eq!(ending, Ending::Done, "{err}");
    let run: Value = serde_json::from_str(&out).expect("JSON");
    assert_eq!(run["parameters"]["water_mass"]["value"], 0.15);
    assert_eq!(run["parameters"]["flow"]["value"], 4.0);
    assert_eq!(run["states"]["rows"].as_array().expect("rows").len(), 16);
    let ledger = &run["energy_balance"];
    let joules = |key: &str| ledger[key].as_f64().expect("joules");
    assert!(joules("residual_J").abs() <= 1e-6 * joules("supplied_J"));
    assert!((joules("supplied_J") - joules("stored_J") - joules("lost_J")).abs() <= 1e-6 * joules("supplied_J"));
    let (_, exact, _) = labquire(&["simulate", "pumped-loop", "--exact", "--seed", "x"]);
    let exact: Value = serde_json::from_str(&exact).expect("JSON");
    let read: f64 = exact["readings"]["rows"][5][1].as_str().expect("text").parse().expect("a number");
    assert!((read - exact["states"]["rows"][5][1].as_f64().expect("a number")).abs() < 1e-9);
    let (_, csv, _) = labquire(&["simulate", "pumped-loop", "--format", "csv"]);
    assert_eq!(csv.lines().count(), 17);
}

#[test]
fn simulate_refuses_what_makes_no_sense() {
    for (set, message) in [
        ("m", "sets nothing"),
        ("m=150", "a plain number"),
        ("m=150 kg", "the model holds"),
        ("mass=150 g", "no input `mass`"),
        ("water_mas=150 g", "did you mean `water_mass`"),
        ("m=150 grams", "unknown unit `grams`"),
        ("loss_linear=2 W/(m2 K)", "the water would reach"),
    ] {
        let (ending, _, err) = labquire(&["simulate", "pumped-loop", "--set", set]);
        assert_eq!(ending.code(), 1, "{set}: {err}");
        assert!(err.contains(message), "{set}: {err}");
    }
}

#[test]
fn check_speaks_json_with_places() {
    let dir = tempfile::TempDir::new().expect("a temporary folder");
    let path = dir.path().join("wrong.yaml");
    let text =
        std::fs::read_to_string(concat!(env!("CARGO_MANIFEST_DIR"), "/experiments/pumped-loop.yaml")).expect("a file");
    let line = text.lines().position(|line| line.contains("formula: m * c * rise")).expect("the line") + 1;
    std::fs::write(
        &path,
        text.replace("formula: m * c * rise", "formula: m * c * rize").replace("minutes: 90", "minuts: 90"),
    )
    .expect("a file");
    let (ending, out, _) = labquire(&["check", path.to_str().expect("text"), "--json"]);
    assert_eq!(ending.code(), 1);
    let faults: Value = serde_json::from_str(&out).expect("JSON");
    assert!(faults.as_array().expect("a list").iter().any(|fault| fault["hint"] == "did you mean `minutes`?"), "{out}");
    std::fs::write(&path, text.replace("formula: m * c * rise", "formula: m * c * rize")).expect("a file");
    let (_, out, _) = labquire(&["check", path.to_str().expect("text"), "--json"]);
    let faults: Value = serde_json::from_str(&out).expect("JSON");
    let fault = &faults[0];
    assert_eq!((fault["line"].as_u64(), fault["column"].as_u64()), (Some(line as u64), Some(24)), "{out}");
    assert_eq!(fault["hint"], "did you mean `rise`?");
}

#[test]
fn check_without_files_checks_the_catalogue() {
    let (ending, out, err) = labquire(&["check"]);
    let count = ::labquire::experiment::catalogue::ids().len();
    assert_eq!((ending, err.as_str()), (Ending::Done, ""));
    assert!(out.starts_with(&format!("{count} definition")), "{out}");
    let (ending, out, _) = labquire(&["check", "--json"]);
    let faults: Value = serde_json::from_str(&out).expect("JSON");
    assert_eq!((ending, faults), (Ending::Done, Value::Array(Vec::new())));
}

/// Warnings are told, but a definition with warnings is sound.
#[test]
fn check_tells_warnings_of_files_and_goes_on() {
    let dir = tempfile::TempDir::new().expect("a temporary folder");
    let base = concat!(env!("CARGO_MANIFEST_DIR"), "/tests/faults/definition.yaml");
    let text = std::fs::read_to_string(base).expect("a file");
    let (doubtful, wrong) = (dir.path().join("doubtful.yaml"), dir.path().join("wrong.yaml"));
    let given = "given:\n  g:\n    symbol: g\n    name: {en: gravity, de: Ortsfaktor}\n    value: 9.81 m/s2\n";
    std::fs::write(&doubtful, text.replace("given:\n", given)).expect("a file");
    std::fs::write(&wrong, text.replace("every: 4 min", "every: 7 min")).expect("a file");
    let (doubtful, wrong) = (doubtful.to_str().expect("text"), wrong.to_str().expect("text"));
    let (ending, out, err) = labquire(&["check", doubtful]);
    assert_eq!(ending, Ending::Done);
    assert!(err.contains("no task uses `g`") && out.contains("no errors"), "{out}{err}");
    let (ending, out, _) = labquire(&["check", doubtful, wrong, "--json"]);
    assert_eq!(ending, Ending::Input);
    let faults: Value = serde_json::from_str(&out).expect("JSON");
    let levels: Vec<_> = faults.as_array().expect("a list").iter().map(|one| one["level"].as_str()).collect();
    assert_eq!(levels, [Some("warning"), Some("error")]);
}

/// A drawing that is not there is the author's slip, not the program's fault.
#[test]
fn an_unknown_drawing_is_found_before_anything_is_printed() {
    let dir = tempfile::TempDir::new().expect("a temporary folder");
    let (path, out) = (dir.path().join("own.yaml"), dir.path().join("set"));
    let text = catalogue::find("pumped-loop").expect("built in").text.replace("art: pumped-loop", "art: pumped-lop");
    std::fs::write(&path, text).expect("a file");
    let (ending, _, err) = labquire(&["make", path.to_str().expect("text"), "--out", out.to_str().expect("text")]);
    assert_eq!(ending.code(), 1, "{err}");
    assert!(err.contains("unknown drawing `pumped-lop`") && err.contains("did you mean `pumped-loop`?"), "{err}");
    assert!(!out.exists());
}

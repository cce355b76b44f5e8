//! Sets for real runs, from the command line on: blank, filled in, marked, fitted, drawn again around the fitted bench.

use std::{fs, path::Path};

use labquire::commands::{Console, Ending};
use serde_json::Value;
use tempfile::TempDir;

/// Runs a command line; gives how it ended, and both outputs.
fn labquire(line: &[&str]) -> (Ending, String, String) {
    let (mut out, mut notes) = (Vec::new(), Vec::new());
    let ending = {
        let mut console = Console::new(&mut out, &mut notes, false);
        labquire::commands::run(std::iter::once("labquire").chain(line.iter().copied()), &mut console)
    };
    let text = |bytes: Vec<u8>| String::from_utf8(bytes).expect("text");
    (ending, text(out), text(notes))
}

fn done(line: &[&str]) -> (String, String) {
    let (ending, out, notes) = labquire(line);
    assert_eq!(ending, Ending::Done, "{line:?}: {notes}");
    (out, notes)
}

fn record(folder: &Path) -> Value {
    let text = fs::read_to_string(folder.join("set.json")).expect("a record");
    serde_json::from_str(&text).expect("json")
}

/// A class of two groups.
const CLASS: &str = "id,name,edition,group\n1,Ana Pohl,core,1\n2,Ben Roth,extension,1\n3,Cem Lind,support,2\n";

/// The readings of a simulated run as a group types them: fields by head, two rows left out.
fn typed(experiment: &str, seed: &str, group: &str, form: &str, skip: &[usize]) -> String {
    let (json, _) = done(&["simulate", experiment, "--seed", seed]);
    let run: Value = serde_json::from_str(&json).expect("json");
    let heads: Vec<&str> = form.lines().next().expect("a head").trim_start_matches('\u{feff}').split(',').collect();
    let readings = run["readings"]["rows"].as_array().expect("rows");
    let mut text = String::new();
    for (row, cells) in readings.iter().enumerate().filter(|(row, _)| !skip.contains(row)) {
        let cells: Vec<&str> =
            cells.as_array().expect("cells").iter().map(|cell| cell.as_str().expect("text")).collect();
        let mut line = vec![group.to_owned()];
        line.extend(cells.iter().map(|cell| (*cell).to_owned()));
        line.resize(heads.len(), String::new());
        let _ = row;
        text.push_str(&format!("{}\n", line.join(",")));
    }
    text
}

/// What was noted once, as options, from a drawn sheet.
fn noted(experiment: &str, seed: &str) -> Vec<String> {
    let source = labquire::experiment::catalogue::find(experiment).expect("in the catalogue");
    let (loaded, _) = labquire::experiment::load(&source).expect("sound");
    let student = labquire::draw::Seed { set: seed, student: "", attempt: 0 };
    let drawn = labquire::variant::drawn_of(&loaded, &student);
    let once = loaded.read_inputs().filter_map(|(once, input)| {
        let settings = labquire::variant::settings_of(&loaded, &drawn).ok()?;
        Some(format!(
            "{}={} {}",
            once.id,
            once.unit.from_si(once.state_unit.to_si(settings.get(input.name))),
            once.unit.print()
        ))
    });
    let told = loaded.drawn.iter().zip(&drawn).filter(|(plan, _)| plan.told);
    told.map(|(_, one)| format!("{}={} {}", one.id, one.text, one.unit.print())).chain(once).collect()
}

/// Three benches with different physics: a blank set, readings with two missing rows, keys, marks, a fit, a set around it.
#[test]
fn the_whole_way_of_a_real_run() {
    for id in ["pumped-loop", "cooling-curve", "lens-heating"] {
        let dir = TempDir::new().expect("a folder");
        let path = |name: &str| dir.path().join(name).display().to_string();
        fs::write(path("class.csv"), CLASS).expect("written");
        let (class, blank, set) = (path("class.csv"), path("blank"), path("set"));
        done(&["make", id, "--class", &class, "--blank", "--out", &blank]);
        let blank_record = record(Path::new(&blank));
        assert_eq!(blank_record["source"], "blank");
        for name in
            ["worksheets.pdf", "keys.pdf", "teacher.pdf", "cover.pdf", "readings-form.csv", "readings-form.xlsx"]
        {
            assert!(Path::new(&blank).join(name).is_file(), "{id}: {name}");
        }
        assert!(!Path::new(&blank).join("answers.csv").exists());
        // The form has a row for each moment of the schedule and group.
        let form = fs::read_to_string(Path::new(&blank).join("readings-form.csv")).expect("a form");
        let head = form.lines().next().expect("a head").to_owned();
        let text = format!("{head}\n{}{}", typed(id, "a", "1", &form, &[3, 6]), typed(id, "b", "2", &form, &[]));
        fs::write(path("typed.csv"), text).expect("written");
        let noted = noted(id, "a");
        let mut line = vec!["make", id, "--class", &class, "--out", &set];
        let file = path("typed.csv");
        line.extend(["--measured", &file]);
        noted.iter().for_each(|one| line.extend(["--set", one]));
        let (_, notes) = done(&line);
        assert!(notes.contains("has no reading at"), "{id}: {notes}");
        let found = record(Path::new(&set));
        assert_eq!(found["source"], "measured");
        // Codes stay as on the blank sheets, so that a sheet finds its key.
        for (one, other) in [&blank_record, &found]
            .map(|one| one["students"].as_array().expect("students"))
            .into_iter()
            .flatten()
            .zip(found["students"].as_array().expect("students"))
            .take(3)
        {
            assert_eq!(one["code"], other["code"]);
        }
        let students = found["students"].as_array().expect("students");
        assert_eq!(students[0]["readings"], students[1]["readings"], "{id}: a group shares its readings");
        assert_ne!(students[0]["readings"], students[2]["readings"]);
        marked(id, Path::new(&set), &found);
        let (bench, again) = (path("bench.yaml"), path("again"));
        let mut line = vec!["fit", id, "--readings", &file, "--group", "1", "--out", &bench, "--json"];
        noted.iter().for_each(|one| line.extend(["--set", one]));
        let (out, _) = done(&line);
        let fit: Value = serde_json::from_str(&out).expect("json");
        assert!(!fit["parameters"].as_object().expect("parameters").is_empty(), "{id}: {fit}");
        assert!(Path::new(&bench).with_extension("pdf").is_file());
        done(&["make", id, "--class", &class, "--bench", &bench, "--out", &again]);
        assert!(record(Path::new(&again))["bench"].as_str().expect("the bench").contains("settings:"));
        done(&["simulate", id, "--bench", &bench]);
        // A set around a bench can be read back and added to.
        fs::write(path("more.csv"), format!("{CLASS}4,Dea Voss,core,2\n")).expect("written");
        done(&["make", id, "--class", &path("more.csv"), "--extend", &again]);
    }
}

/// The key's own numbers earn all marks that the run can earn, and no task counts that it can't answer.
fn marked(id: &str, set: &Path, record: &Value) {
    let form = fs::read_to_string(set.join("answers.csv")).expect("a form");
    let mut reader = csv::Reader::from_reader(form.trim_start_matches('\u{feff}').as_bytes());
    let heads = reader.headers().expect("heads").clone();
    let mut writer = csv::Writer::from_path(set.with_extension("csv")).expect("a file");
    writer.write_record(&heads).expect("written");
    let students = record["students"].as_array().expect("students");
    for row in reader.records() {
        let row = row.expect("a row");
        let student = students.iter().find(|one| one["id"] == row[0]).expect("a student");
        let cells = heads.iter().zip(&row).map(|(head, cell)| {
            let answer = &student["answers"][head];
            match (answer["text"].as_str(), answer["marks"].as_u64(), cell) {
                (_, _, "x") => "x".to_owned(),
                (Some(text), _, _) => text.to_owned(),
                (None, Some(marks), _) if answer["open"].is_null() => marks.to_string(),
                _ => cell.to_owned(),
            }
        });
        writer.write_record(cells).expect("written");
    }
    writer.flush().expect("written");
    let (out, _) = done(&[
        "mark",
        &set.display().to_string(),
        "--answers",
        &set.with_extension("csv").display().to_string(),
        "--json",
    ]);
    let marks: Value = serde_json::from_str(&out).expect("json");
    for student in marks["students"].as_array().expect("students") {
        assert_eq!(student["total"], student["out_of"], "{id}: {student}");
        let recorded = students.iter().find(|one| one["id"] == student["id"]).expect("a student");
        let answers = recorded["answers"].as_object().expect("answers");
        let of: u64 = answers.values().filter_map(|answer| answer["marks"].as_u64()).sum();
        assert_eq!(student["out_of"], of, "{id}");
    }
}

#[test]
fn tasks_that_a_run_can_not_answer_say_why() {
    let dir = TempDir::new().expect("a folder");
    let path = |name: &str| dir.path().join(name).display().to_string();
    fs::write(path("class.csv"), CLASS).expect("written");
    // Ten minutes of a run that needs an hour, no light meter, no reading at 12 minutes.
    let rows = "group,t / min,T / °C,m / g\n1,0,21.4,150\n1,2,26.3,\n1,4,31.0,\n1,6,35.1,\n1,8,38.9,\n";
    fs::write(path("short.csv"), rows).expect("written");
    let (class, file, set) = (path("class.csv"), path("short.csv"), path("set"));
    let (_, notes) = done(&["make", "pumped-loop", "--class", &class, "--measured", &file, "--out", &set]);
    assert!(notes.contains("without readings, and so without a sheet: 3"), "{notes}");
    let found = record(Path::new(&set));
    let students = found["students"].as_array().expect("students");
    assert_eq!(students.len(), 2);
    let why = |task: &str| students[1]["answers"][task]["open"].as_str().unwrap_or_default().to_owned();
    assert!(why("rise").contains("there is no reading at 12\u{202f}min"), "{}", why("rise"));
    assert!(why("heat").contains("it needs the answer to task"), "{}", why("heat"));
    assert!(why("light").contains("was not noted"), "{}", why("light"));
    assert!(why("limit").contains("% of the way to the limit"), "{}", why("limit"));
    assert!(why("curve").is_empty());
    let keys = fs::read_to_string(Path::new(&set).join("keys.txt")).expect("keys");
    assert!(keys.contains("there is no reading at 12\u{202f}min"));
}

#[test]
fn what_does_not_go_together_is_refused() {
    let (ending, _, notes) = labquire(&["make", "pumped-loop", "--blank", "--measured", "x.csv"]);
    assert_eq!(ending, Ending::Usage, "{notes}");
    let (ending, _, notes) =
        labquire(&["make", "pumped-loop", "--measured", "no-such-file.csv", "--out", "/nonexistent/x"]);
    assert_eq!(ending, Ending::Input);
    assert!(notes.contains("the readings file can not be read"), "{notes}");
    let dir = TempDir::new().expect("a folder");
    let path = |name: &str| dir.path().join(name).display().to_string();
    fs::write(path("class.csv"), CLASS).expect("written");
    let blank = path("blank");
    done(&["make", "pumped-loop", "--class", &path("class.csv"), "--blank", "--out", &blank]);
    let (ending, _, notes) = labquire(&["mark", &blank, "--answers", &path("class.csv")]);
    assert_eq!(ending, Ending::Input);
    assert!(notes.contains("no readings yet"), "{notes}");
    let (ending, _, notes) = labquire(&["make", "pumped-loop", "--extend", &blank]);
    assert_eq!(ending, Ending::Input);
    assert!(notes.contains("no drawn readings"), "{notes}");
    let (ending, _, notes) = labquire(&[
        "fit",
        "pumped-loop",
        "--readings",
        &path("class.csv"),
        "--set",
        "q=3 g",
        "--set",
        "m=3 V",
        "--start",
        "3 g",
    ]);
    assert_eq!(ending, Ending::Input);
    for part in ["nothing is noted as `q`", "`m` is noted in a unit of another kind", "`--start 3 g`"] {
        assert!(notes.contains(part), "{part}: {notes}");
    }
    // A quantity may be named as the input of the bench that it sets.
    let (_, _, notes) = labquire(&["fit", "pumped-loop", "--readings", &path("class.csv"), "--set", "water_mass=3 V"]);
    assert!(notes.contains("`m` is noted in a unit of another kind"), "{notes}");
}

//! Files of readings: what is taken from them, and what is told of the rest.

use std::path::PathBuf;

use labquire::{
    experiment::{self, Experiment, catalogue},
    measured::{self, MeasuredFile, MeasuredRun},
    report::{Level, Problem, Problems},
    variant::Variant,
};
use tempfile::TempDir;

fn loaded(id: &str) -> Experiment {
    let source = catalogue::find(id).expect("in the catalogue");
    experiment::load(&source).expect("a sound definition").0
}

struct Case {
    _dir: TempDir,
    path: PathBuf,
}

fn file(name: &str, bytes: &[u8]) -> Case {
    let dir = TempDir::new().expect("a folder");
    let path = dir.path().join(name);
    std::fs::write(&path, bytes).expect("written");
    Case { _dir: dir, path }
}

fn read_from(experiment: &Experiment, name: &str, text: &str) -> Result<MeasuredFile, Problems> {
    measured::read(&file(name, text.as_bytes()).path, experiment, None)
}

fn read(text: &str) -> Result<MeasuredFile, Problems> {
    read_from(&loaded("pumped-loop"), "run.csv", text)
}

fn at(run: &MeasuredRun) -> Vec<f64> {
    run.rows.iter().map(|row| row.at.value).collect()
}

fn column(run: &MeasuredRun, place: usize) -> Vec<Option<f64>> {
    run.rows.iter().map(|row| row.cells[place].as_ref().map(|one| one.value)).collect()
}

fn noted(run: &MeasuredRun, id: &str) -> String {
    run.told.iter().find(|stated| stated.id == id).map(|stated| stated.text.clone()).unwrap_or_default()
}

fn told(problems: &[Problem], level: Level) -> Vec<&str> {
    problems.iter().filter(|one| one.level == level).map(|one| one.message.as_str()).collect()
}

const TYPED: &str = "group,t / min,T / °C,A / cm²,m / g,d / cm,G / W/m²,T_r / °C,U / V,I / A
1,0,21.4,450,150,30.0,880,21.3,7.50,0.220
1,4,31.0,,,,,,,
1,8,38.9,,,,,,,
1,12,,,,,,,,
1,16,50.1,,,,,,,
2,0,20.9,450,151,30.0,881,21.0,7.52,0.221
2,4.5,31.9,,,,,,,
2,8,38.5,,,,,,,
2,12,44.6,,,,,,,
";

#[test]
fn a_typed_form_with_missing_rows_and_unequal_times() {
    let MeasuredFile { runs, notices } = read(TYPED).expect("read");
    assert_eq!(runs.iter().map(|run| run.who.as_str()).collect::<Vec<_>>(), ["1", "2"]);
    // The row that nobody filled in is no row.
    assert_eq!(at(&runs[0]), [0.0, 4.0, 8.0, 16.0]);
    assert_eq!(at(&runs[1]), [0.0, 4.5, 8.0, 12.0]);
    assert_eq!(noted(&runs[0], "m"), "150");
    assert_eq!(noted(&runs[1], "m"), "151");
    assert_eq!(noted(&runs[0], "U"), "7.50");
    assert!(notices.is_empty(), "{notices:?}");
    let experiment = loaded("pumped-loop");
    let (Variant { table, .. }, problems) = measured::variant(&experiment, &runs[0]);
    assert_eq!(table.column("t").expect("t").texts, ["0", "4", "8", "16"]);
    let lacking = told(&problems, Level::Notice);
    assert_eq!(lacking, ["the run of `1` has no reading at 12, 20, 24, 28, 32, 36, 40, 44, 48, 52, 56, 60 min"]);
}

#[test]
fn a_german_spreadsheet_is_read_like_a_form() {
    let text =
        "Gruppe;Zeit / min;Temperatur des Wassers / °C;Masse des Wassers / kg\n3;0;21,4;0,150\n3;4;31;\n3;8;38,9;\n";
    let MeasuredFile { runs, notices } = read(text).expect("read");
    assert!(notices.is_empty(), "{notices:?}");
    assert_eq!(runs[0].who, "3");
    assert_eq!(column(&runs[0], 0), [Some(21.4), Some(31.0), Some(38.9)]);
    assert_eq!(noted(&runs[0], "m"), "150");
    // A spreadsheet has dropped a zero: the sheet shows what the thermometer showed.
    let (variant, _) = measured::variant(&loaded("pumped-loop"), &runs[0]);
    assert_eq!(variant.table.column("T").expect("T").texts, ["21.4", "31.0", "38.9"]);
}

#[test]
fn other_units_are_converted() {
    let text = "t / s,T / K\n0,294.55\n240,304.15\n480,312.05\n";
    let MeasuredFile { runs, .. } = read(text).expect("read");
    assert_eq!(at(&runs[0]), [0.0, 4.0, 8.0]);
    assert_eq!(column(&runs[0], 0), [Some(21.4), Some(31.0), Some(38.9)]);
    let wrong = read("t / min,T / kg\n0,1\n4,2\n8,3\n").expect_err("no temperature");
    assert!(told(&wrong, Level::Error)[0].contains("`kg`"), "{wrong:?}");
}

#[test]
fn heads_are_read_as_loggers_and_the_simulator_write_them() {
    for head in ["time_s,temperature_C", "Time (s),T1 [deg C]", "elapsed in s,Temperatur des Wassers", "t/s,T/°C"] {
        let MeasuredFile { runs, .. } = read(&format!("{head}\n0,21.4\n240,31.0\n480,38.9\n")).expect(head);
        assert_eq!(at(&runs[0]), [0.0, 4.0, 8.0], "{head}");
        assert_eq!(column(&runs[0], 0), [Some(21.4), Some(31.0), Some(38.9)], "{head}");
    }
    let simulated =
        "time / s,water_temperature / °C,read t,read T\n0,21.37,0,21.4\n240,31.02,4,31.0\n480,38.88,8,38.9\n";
    let MeasuredFile { runs, notices } = read(simulated).expect("read");
    assert_eq!((at(&runs[0]), column(&runs[0], 0)[2]), (vec![0.0, 4.0, 8.0], Some(38.9)));
    assert!(notices.is_empty(), "{notices:?}");
}

#[test]
fn what_can_not_be_used_is_told_with_its_place_and_the_rest_is_used() {
    let text = "t / min,T / °C\n0,21.4\n4,31.O\n8,OL\n12,444.6\n16,50.1\n15,49.0\n20,53.7\n24,56.1\n28,58.0\n";
    let MeasuredFile { runs, notices } = read(text).expect("read");
    assert_eq!(at(&runs[0]), [0.0, 16.0, 20.0, 24.0, 28.0]);
    let warnings = told(&notices, Level::Warning);
    assert_eq!(warnings.len(), 4, "{warnings:?}");
    assert!(warnings[0].contains("`31.O`") && warnings[1].contains("beyond its range"), "{warnings:?}");
    assert!(warnings[2].contains("`444.6` lies beyond the instrument"));
    assert!(warnings[3].contains("`15` does not come after"));
    assert!(notices.iter().all(|one| one.place.is_some() && one.hint.is_some()));
}

#[test]
fn swapped_columns_are_an_error() {
    let text = "t / min,T / °C\n21.4,0\n31.0,4\n38.9,8\n44.8,12\n50.1,16\n53.7,20\n";
    let problems = read(text).expect_err("swapped");
    assert!(told(&problems, Level::Error)[0].contains("look swapped"), "{problems:?}");
    // Two thermometers under each other's heads are found by what the bench gives.
    let experiment = loaded("store-race");
    let variant = labquire::variant::draw(&experiment, "swap", "1").expect("drawn");
    let names: Vec<&str> = experiment.columns.iter().map(|column| column.id.as_str()).collect();
    assert!(names.len() >= 2, "{names:?}");
    let lines = |first: &str, second: &str| {
        let (t, a, b) = (&variant.table.columns[0].texts, variant.table.column(first), variant.table.column(second));
        let (a, b) = (a.expect("read"), b.expect("read"));
        let rows = t.iter().zip(&a.texts).zip(&b.texts).map(|((t, a), b)| format!("{t},{a},{b}\n"));
        let schedule = experiment.schedule.unit.print();
        format!(
            "{} / {schedule},{} / °C,{} / °C\n{}",
            experiment.schedule.id,
            names[0],
            names[1],
            rows.collect::<String>()
        )
    };
    let runs = |text: String| {
        let mut runs = read_from(&experiment, "run.csv", &text).expect("read").runs;
        runs[0].told = variant.told.clone();
        runs
    };
    assert_eq!(measured::swapped(&experiment, &runs(lines(names[0], names[1]))[0]), None);
    assert!(measured::swapped(&experiment, &runs(lines(names[1], names[0]))[0]).is_some());
}

#[test]
fn a_file_without_what_is_needed_is_refused_with_all_reasons() {
    let refused = |text: &str| told(&read(text).expect_err("refused"), Level::Error).join("; ");
    assert!(refused("").contains("no readings"));
    assert!(refused("a,b\n1,2\n").contains("no readings"));
    assert!(refused("t / min,T / °C\n0,21\n4,30\n").contains("2 whole rows"));
    assert!(refused("t / min,T / °C,T / °C\n0,21,21\n4,30,30\n8,40,40\n").contains("stands twice"));
    // Time that runs backwards for most rows.
    assert!(refused("t / min,T / °C\n9,21\n8,30\n7,40\n6,41\n5,42\n").contains("does not ascend"));
}

/// A logger's file: what it says of itself, time stamps, decimal commas, thousands of rows.
fn logged(rows: usize, stamp: impl Fn(usize) -> String) -> String {
    let mut text = "Logger 12;Raum 3\nm;150 g\nd = 30,0 cm\nT_r: 21,3 °C\n\nZeitstempel;Kanal 1 [°C]\n".to_owned();
    for row in 0..rows {
        let warm = 21.4 + 44.0 * (1.0 - (-(row as f64) * 0.72 / 1000.0).exp());
        text.push_str(&format!("{};{}\n", stamp(row), format!("{warm:.2}").replace('.', ",")));
    }
    text
}

#[test]
fn a_logger_s_file_is_thinned_for_the_table_and_whole_for_the_fit() {
    let experiment = loaded("pumped-loop");
    let stamp = |row: usize| {
        let time = 9.0 * 3600.0 + row as f64 * 0.72;
        format!("03.11.2026 {:02}:{:02}:{:06.3}", (time / 3600.0) as u32, (time % 3600.0 / 60.0) as u32, time % 60.0)
    };
    let MeasuredFile { runs, notices } = read_from(&experiment, "log.csv", &logged(5000, stamp)).expect("read");
    let run = &runs[0];
    assert_eq!(run.rows.len(), 5000);
    assert_eq!((noted(run, "m"), noted(run, "d"), noted(run, "T_r")), ("150".into(), "30.0".into(), "21.3".into()));
    assert!(told(&notices, Level::Notice).iter().any(|one| one.contains("was taken for `T`")), "{notices:?}");
    assert!((run.rows[4999].at.value - 4999.0 * 0.72 / 60.0).abs() < 1e-4);
    let (variant, problems) = measured::variant(&experiment, run);
    assert_eq!(variant.table.column("t").expect("t").texts.join(" "), "0 4 8 12 16 20 24 28 32 36 40 44 48 52 56 60");
    assert_eq!(variant.table.column("T").expect("T").texts[0], "21.40");
    assert!(problems.is_empty(), "{problems:?}");
}

#[test]
fn stamps_are_read_however_they_are_written() {
    let experiment = loaded("pumped-loop");
    let end = |stamp: &dyn Fn(u32) -> String| {
        let rows: String = (0..16).map(|row| format!("{};{}\n", stamp(row * 4), 20 + row)).collect();
        let runs = read_from(&experiment, "log.csv", &format!("Zeit;T\n{rows}")).expect("read").runs;
        at(&runs[0]).last().copied().expect("rows")
    };
    // Past midnight, in words of noon, without seconds, as minutes and seconds, from a clock that has run for long.
    assert_eq!(end(&|min| format!("{:02}:{:02}:00", (23 + (30 + min) / 60) % 24, (30 + min) % 60)), 60.0);
    assert_eq!(
        end(&|min| format!(
            "11/03/2026 {}:{:02}:00 {}",
            if min < 30 { 11 } else { 12 },
            (30 + min) % 60,
            if min < 30 { "AM" } else { "PM" }
        )),
        60.0
    );
    assert_eq!(
        end(&|min| format!("2026-11-03T10:{:02}", min % 60).replace("T10", if min < 60 { "T10" } else { "T11" })),
        60.0
    );
    assert_eq!(end(&|min| format!("{min}:00")), 60.0);
    assert_eq!(end(&|min| format!("{}", 7000 + min)), 60.0);
}

#[test]
fn a_run_may_begin_later_than_its_file() {
    let experiment = loaded("pumped-loop");
    let rows: String =
        (0..40).map(|row| format!("{},{}\n", f64::from(row) * 2.0 - 3.0, 20.0 + f64::from(row))).collect();
    let case = file("run.csv", format!("t / min,T / °C\n{rows}").as_bytes());
    let run = &measured::read(&case.path, &experiment, Some(5.0)).expect("read").runs[0];
    assert_eq!(at(run)[..3], [0.0, 2.0, 4.0]);
    assert_eq!(column(run, 0)[0], Some(24.0));
}

#[test]
fn each_sheet_of_a_workbook_is_a_group() {
    let mut book = rust_xlsxwriter::Workbook::new();
    for name in ["1", "2"] {
        let sheet = book.add_worksheet().set_name(name).expect("a name");
        for (column, head) in (0..).zip(["t / min", "T / °C", "m / g"]) {
            sheet.write_string(0, column, head).expect("written");
        }
        for row in 1..=5_u32 {
            sheet.write_number(row, 0, f64::from(row - 1) * 4.0).expect("written");
            sheet.write_number(row, 1, 20.1 + f64::from(row)).expect("written");
        }
        sheet.write_number(1, 2, 150).expect("written");
    }
    book.add_worksheet().set_name("Notes").expect("a name").write_string(0, 0, "nothing to read").expect("written");
    let case = file("run.xlsx", &book.save_to_buffer().expect("bytes"));
    let MeasuredFile { runs, .. } = measured::read(&case.path, &loaded("pumped-loop"), None).expect("read");
    assert_eq!(runs.iter().map(|run| run.who.as_str()).collect::<Vec<_>>(), ["1", "2"]);
    assert_eq!(column(&runs[1], 0)[0], Some(21.1));
    assert_eq!(noted(&runs[1], "m"), "150");
}

//! What a whole set costs against typst alone. In: classes of one edition. Out: a table of wall time, CPU time, memory, and their ratios.
//!
//! `cargo bench --bench whole` runs 30 and 300 students, `cargo bench --bench whole -- 30 300 3000` what is asked for. With `--check` the
//! ratios must stay below the bounds that stand here: times are never checked, they are the machine's. The floor is the same
//! Typst sources set and exported by typst on one thread, with nothing drawn, computed or written. Reads `/proc`, so Linux only.

use std::{
    fs,
    io::Write,
    path::Path,
    process::{Command, ExitCode, Stdio},
    time::{Duration, Instant},
};

use labquire::{
    class::{Roster, Student},
    compose::{self, View},
    experiment::{self, catalogue},
    language::Language,
    press::{Binding, Documents, Leaf, Paper, PdfJob, Press, Work},
    set::SetPlan,
};
use tempfile::TempDir;

const EXPERIMENT: &str = "pumped-loop";
/// Students bound in a volume.
const VOLUME: usize = 40;
/// Clock ticks of `/proc` in a second, on every Linux that cargo runs on.
const TICKS: f64 = 100.0;

/// CPU time over that of the floor at most: 1.9 for 30 students, 2.0 for 300, 1.3 for 3,000 when this was written. Most of what is
/// above is drawing sheets apart, which ends when the experiment can keep no more apart.
const MOST_OVER_FLOOR: f64 = 2.6;
/// Memory of a class over that of the one before at most.
const MOST_MEMORY: f64 = 2.2;

/// What a run cost.
struct Cost {
    wall: f64,
    cpu: f64,
    peak_mb: f64,
}

fn main() -> ExitCode {
    let words: Vec<String> = std::env::args().skip(1).collect();
    let check = words.iter().any(|word| word == "--check");
    let mut sizes: Vec<usize> = words.iter().filter_map(|word| word.parse().ok()).collect();
    if sizes.is_empty() {
        sizes = vec![30, 300];
    }
    say("| students | wall / s | CPU / s | CPU a student / ms | peak / MB | floor CPU / s | CPU over floor |");
    say("| ---: | ---: | ---: | ---: | ---: | ---: | ---: |");
    let mut found = Vec::new();
    for students in sizes {
        let cost = end_to_end(students);
        let floor = floor(students);
        let ratio = cost.cpu / floor;
        say(&format!(
            "| {students} | {:.2} | {:.2} | {:.1} | {:.0} | {floor:.2} | {ratio:.2} |",
            cost.wall,
            cost.cpu,
            1000.0 * cost.cpu / students as f64,
            cost.peak_mb
        ));
        found.push((students, cost, ratio));
    }
    let over = found.iter().filter(|(_, _, ratio)| *ratio > MOST_OVER_FLOOR).count();
    let grown = found.windows(2).filter(|pair| pair[1].1.peak_mb > MOST_MEMORY * pair[0].1.peak_mb);
    let faults = over + grown.count();
    if check && faults > 0 {
        eprintln!("{faults} ratios are out of bounds");
        return ExitCode::FAILURE;
    }
    ExitCode::SUCCESS
}

/// A line of the table, as soon as it is known.
fn say(line: &str) {
    let _ = writeln!(std::io::stdout(), "{line}");
}

fn class(students: usize) -> Vec<Student> {
    let student = |number: usize| Student {
        id: number.to_string(),
        name: format!("Student {number}"),
        edition: None,
        seat: None,
        group: None,
        lang: None,
        large: false,
    };
    (1..=students).map(student).collect()
}

/// The program as its users run it.
fn end_to_end(students: usize) -> Cost {
    let dir = TempDir::new().expect("a folder");
    let file = dir.path().join("class.csv");
    let rows: String = class(students).iter().map(|one| format!("{},{}\n", one.id, one.name)).collect();
    fs::write(&file, format!("id,name\n{rows}")).expect("written");
    let started = Instant::now();
    let mut child = Command::new(env!("CARGO_BIN_EXE_labquire"))
        .args(["make", EXPERIMENT, "--class"])
        .arg(&file)
        .arg("--out")
        .arg(dir.path().join("set"))
        .stdout(Stdio::null())
        .stderr(Stdio::null())
        .spawn()
        .expect("started");
    let place = format!("/proc/{}", child.id());
    let mut cost = Cost { wall: 0.0, cpu: 0.0, peak_mb: 0.0 };
    loop {
        // A process that has ended keeps its times until it is waited for, but not its memory.
        cost.cpu = cpu(Path::new(&place)).unwrap_or(cost.cpu);
        cost.peak_mb = peak_mb(Path::new(&place)).unwrap_or(cost.peak_mb);
        if ended(Path::new(&place)) {
            break;
        }
        std::thread::sleep(Duration::from_millis(2));
    }
    cost.wall = started.elapsed().as_secs_f64();
    assert!(child.wait().expect("ended").success(), "the set was not made");
    cost
}

/// The CPU time of the same sources, set and exported by typst on one thread, s.
fn floor(students: usize) -> f64 {
    let source = catalogue::find(EXPERIMENT).expect("in the catalogue");
    let (experiment, _) = experiment::load(&source).expect("sound");
    let roster = Roster { name: "class".to_owned(), students: class(students) };
    let language = Language::find("en").expect("English");
    let seed = format!("{EXPERIMENT} class");
    let plan = SetPlan::new(&experiment, &roster, &seed, language);
    let members = plan.draft(|_, _| true).map_err(|_| "refused").expect("drawn").members;
    let documents = Documents::new().expect("templates");
    let title = experiment.definition.title.in_language("en");
    let leaf = |member: &labquire::set::Member<'_>, view: View| -> Leaf {
        let sheet = compose::sheet(&plan.facts(member, language), plan.labels(member), view);
        match view {
            View::Worksheet => documents.worksheet(title, &sheet, Paper::A4),
            View::Key => documents.key(title, &sheet, Paper::A4),
        }
        .expect("a source")
    };
    let mut spent = 0.0;
    for view in [View::Worksheet, View::Key] {
        for volume in members.chunks(VOLUME) {
            let leaves: Vec<Leaf> = volume.iter().map(|member| leaf(member, view)).collect();
            let before = cpu(Path::new("/proc/self")).expect("a clock");
            Press::new().pdf(Work::Volume(leaves, Binding::default()), &PdfJob::default()).expect("printed");
            spent += cpu(Path::new("/proc/self")).expect("a clock") - before;
        }
    }
    spent
}

/// Fields behind the name in brackets, which may hold anything.
fn stat(place: &Path) -> Option<Vec<String>> {
    let text = fs::read_to_string(place.join("stat")).ok()?;
    Some(text.rsplit_once(')')?.1.split_whitespace().map(str::to_owned).collect())
}

/// User and system time, s.
fn cpu(place: &Path) -> Option<f64> {
    let fields = stat(place)?;
    let ticks = |at: usize| fields.get(at)?.parse::<f64>().ok();
    Some((ticks(11)? + ticks(12)?) / TICKS)
}

fn ended(place: &Path) -> bool {
    stat(place).and_then(|fields| fields.first().cloned()).is_none_or(|state| state == "Z" || state == "X")
}

fn peak_mb(place: &Path) -> Option<f64> {
    let text = fs::read_to_string(place.join("status")).ok()?;
    let line = text.lines().find(|line| line.starts_with("VmHWM:"))?;
    Some(line.split_whitespace().nth(1)?.parse::<f64>().ok()? / 1024.0)
}

//! What a whole set costs against typst alone. In: classes of one edition. Out: a table of wall time, CPU time, memory, and their ratios.
//!
//! `cargo bench --bench whole` runs 30 and 300 students, `cargo bench --bench whole -- 30 300 3000` what is asked for. With `--check` the
//! ratios must stay below the bounds that stand here: times are never checked, they are the machine's. The floor is the same
//! Typst sources of all documents, set and exported by typst on as many threads as the program has, with nothing drawn, computed, filled in or
//! written. Each leaf of the floor is set and written by itself, its digits stamped in. Sheets and keys are made in two more ways: as
//! the program does it, laid over plates, and with every digit set by Typst. Reads `/proc`, so Linux only; one core is asked for with `taskset`, without which that column stays empty.

use std::{
    fs,
    io::Write,
    path::Path,
    process::{Command, ExitCode, Stdio},
    time::{Duration, Instant},
};

use labquire::{
    class::{Roster, Student},
    experiment::{self, catalogue},
    language::Language,
    press::{PdfJob, Plates, Press, PressError, Printed, Work},
    set::{Print, Printing, SetPlan},
};
use tempfile::TempDir;

/// The program's own.
#[global_allocator]
static ALLOCATOR: mimalloc::MiMalloc = mimalloc::MiMalloc;

const EXPERIMENT: &str = "pumped-loop";
/// Words that ask for the floor alone.
const ALONE: &str = "--floor";
const LAID: &str = "laid";
const STAMPED: &str = "stamped";
const OUTRIGHT: &str = "outright";
/// Students that are made in all for a line of the table: small classes are made so often, and the least of each figure counts,
/// since whatever else a machine does only adds to it.
const REPEATED: usize = 150;
/// Clock ticks of `/proc` in a second, on every Linux that cargo runs on.
const TICKS: f64 = 100.0;

/// Bounds of ratios, with room for a noisy machine above what was measured when they were written (see the README's table).
const MOST_OVER_FLOOR: f64 = 1.5;
/// Drawing and keying over the floor.
const MOST_DRAWING: f64 = 0.3;
/// Memory of a large class over that of the large one before.
const MOST_GROWTH: f64 = 1.2;
/// Memory of any class, MB.
const MOST_MEMORY: f64 = 400.0;
/// A class from which on starting and first pages weigh so little that three more ratios mean something.
const LARGE: usize = 300;
/// For large classes: sheets and keys as the program makes them over those with all digits set.
const MOST_LAID: f64 = 0.6;
/// For large classes: wall time on all cores over that on one, where there are several.
const MOST_CORES: f64 = 0.9;

/// What a run cost.
struct Cost {
    wall: f64,
    cpu: f64,
    peak_mb: f64,
}

fn main() -> ExitCode {
    let words: Vec<String> = std::env::args().skip(1).collect();
    if let [word, digits, students] = words.as_slice()
        && word == ALONE
    {
        let Floor { drawing, whole, leaves } = floor(students.parse().expect("a number"), digits);
        say(&format!("{drawing} {whole} {leaves}"));
        return ExitCode::SUCCESS;
    }
    let check = words.iter().any(|word| word == "--check");
    let mut sizes: Vec<usize> = words.iter().filter_map(|word| word.parse().ok()).collect();
    if sizes.is_empty() {
        sizes = vec![30, 300];
    }
    say(
        "| students | wall / s | on one core | CPU / s | a student / ms | peak / MB | floor / s | over floor | draws over floor | sheets and keys / s | leaf by leaf / s | all digits set / s |",
    );
    say("| ---: | ---: | ---: | ---: | ---: | ---: | ---: | ---: | ---: | ---: | ---: | ---: |");
    let mut faults = 0;
    let mut before = f64::INFINITY;
    for students in sizes {
        let cost = end_to_end(students, false).expect("the set was made");
        let alone = end_to_end(students, true);
        let Floor { drawing, whole, leaves: stamped } = floor_alone(students, STAMPED);
        let [laid, outright] = [LAID, OUTRIGHT].map(|digits| floor_alone(students, digits).leaves);
        let wall_alone = alone.as_ref().map_or("".to_owned(), |alone| format!("{:.2}", alone.wall));
        say(&format!(
            "| {students} | {:.2} | {wall_alone} | {:.2} | {:.1} | {:.0} | {whole:.2} | {:.2} | {:.2} | {laid:.2} | {stamped:.2} | {outright:.2} |",
            cost.wall,
            cost.cpu,
            1000.0 * cost.cpu / students as f64,
            cost.peak_mb,
            cost.cpu / whole,
            drawing / whole,
        ));
        let several = std::thread::available_parallelism().is_ok_and(|cores| cores.get() > 1);
        let mut ratios = vec![
            ("CPU over floor", cost.cpu / whole, MOST_OVER_FLOOR),
            ("draws over floor", drawing / whole, MOST_DRAWING),
            ("memory in MB", cost.peak_mb, MOST_MEMORY),
        ];
        if students >= LARGE {
            ratios.push(("memory over that of the class before", cost.peak_mb / before, MOST_GROWTH));
            before = cost.peak_mb;
            ratios.push(("sheets and keys over all digits set", laid / outright, MOST_LAID));
            let alone = alone.filter(|_| several);
            ratios.extend(alone.map(|alone| ("cores over one core", cost.wall / alone.wall, MOST_CORES)));
        }
        for (name, ratio, most) in ratios.into_iter().filter(|(_, ratio, most)| ratio > most) {
            eprintln!("{students} students: {name} is {ratio:.2}, {most} at most");
            faults += 1;
        }
    }
    if check && faults > 0 {
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

/// The least that the program costs, on one core if asked; nothing where the machine can't say so.
fn end_to_end(students: usize, alone: bool) -> Option<Cost> {
    let less = |one: Cost, other: Cost| Cost {
        wall: one.wall.min(other.wall),
        cpu: one.cpu.min(other.cpu),
        peak_mb: one.peak_mb.min(other.peak_mb),
    };
    repeated(students).filter_map(|_| run(students, alone)).reduce(less)
}

fn repeated(students: usize) -> std::ops::Range<usize> {
    0..(REPEATED / students).max(1)
}

/// The program as its users run it.
fn run(students: usize, alone: bool) -> Option<Cost> {
    let dir = TempDir::new().expect("a folder");
    let file = dir.path().join("class.csv");
    let rows: String = class(students).iter().map(|one| format!("{},{}\n", one.id, one.name)).collect();
    fs::write(&file, format!("id,name\n{rows}")).expect("written");
    let started = Instant::now();
    let mut command = if alone { Command::new("taskset") } else { Command::new(env!("CARGO_BIN_EXE_labquire")) };
    if alone {
        command.args(["--cpu-list", "0", env!("CARGO_BIN_EXE_labquire")]);
    }
    let mut child = command
        .args(["make", EXPERIMENT, "--class"])
        .arg(&file)
        .arg("--out")
        .arg(dir.path().join("set"))
        .stdout(Stdio::null())
        .stderr(Stdio::null())
        .spawn()
        .ok()?;
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
    child.wait().is_ok_and(|ended| ended.success()).then_some(cost)
}

/// CPU times, s.
struct Floor {
    /// Of drawing and keying the class.
    drawing: f64,
    /// Of setting and exporting all documents by typst.
    whole: f64,
    /// Of the sheets and keys among them.
    leaves: f64,
}

/// The least floor, each in a process of its own, which starts as cold as the program does.
fn floor_alone(students: usize, digits: &str) -> Floor {
    let less = |one: Floor, other: Floor| Floor {
        drawing: one.drawing.min(other.drawing),
        whole: one.whole.min(other.whole),
        leaves: one.leaves.min(other.leaves),
    };
    repeated(students).map(|_| floor_in_process(students, digits)).reduce(less).expect("once at least")
}

fn floor_in_process(students: usize, digits: &str) -> Floor {
    let program = std::env::current_exe().expect("a path");
    let output = Command::new(program).args([ALONE, digits, &students.to_string()]).output().expect("run");
    let text = String::from_utf8(output.stdout).expect("text");
    let numbers: Vec<f64> = text.split_whitespace().filter_map(|word| word.parse().ok()).collect();
    let [drawing, whole, leaves] = numbers[..] else { panic!("no floor: {text}") };
    Floor { drawing, whole, leaves }
}

fn floor(students: usize, digits: &str) -> Floor {
    let source = catalogue::find(EXPERIMENT).expect("in the catalogue");
    let (experiment, _) = experiment::load(&source).expect("sound");
    let roster = Roster { name: "class".to_owned(), students: class(students) };
    let language = Language::find("en").expect("English");
    let seed = format!("{EXPERIMENT} class");
    let plan = SetPlan::new(&experiment, &roster, &seed, language);
    let before = spent();
    let members = plan.draft(|_, _| true).map_err(|_| "refused").expect("drawn").members;
    let drawing = spent() - before;
    let print = Print::new(&plan, &members, Printing::default()).expect("templates");
    let (sheets, keys) = (Plates::default(), Plates::default());
    let press = |name: &str| match digits {
        OUTRIGHT => Press::new().outright(),
        LAID if name.starts_with("worksheets") => Press::new().laying(&sheets),
        LAID if name.starts_with("keys") => Press::new().laying(&keys),
        _ => Press::new(),
    };
    let is_leaf = |name: &str| name.starts_with("worksheets") || name.starts_with("keys");
    let (leaves, pages) = set(press, print.works(None, is_leaf));
    let (others, _) = set(press, print.works(Some(&pages), |name| !is_leaf(name)));
    Floor { drawing, whole: leaves + others, leaves }
}

/// CPU time of setting and exporting, as many documents at a time as there are cores, and the pages of each sheet among them.
fn set<'p>(
    press: impl Fn(&str) -> Press<'p> + Sync,
    works: impl Iterator<Item = Result<(String, Work), PressError>>,
) -> (f64, Vec<usize>) {
    let cores = std::thread::available_parallelism().map_or(1, usize::from);
    let mut works = works.map(|work| work.expect("a source"));
    let (mut sum, mut pages) = (0.0, Vec::new());
    let pressed = |(name, work): (String, Work)| {
        let printed = press(&name).pdf(work, &PdfJob::default()).expect("printed");
        (name, printed)
    };
    let pressed = &pressed;
    loop {
        let batch: Vec<(String, Work)> = works.by_ref().take(cores).collect();
        if batch.is_empty() {
            return (sum, pages);
        }
        let before = spent();
        let printed: Vec<(String, Printed)> = std::thread::scope(|scope| {
            let running: Vec<_> = batch.into_iter().map(|work| scope.spawn(move || pressed(work))).collect();
            running.into_iter().map(|one| one.join().expect("no panic")).collect()
        });
        sum += spent() - before;
        pages.extend(
            printed.into_iter().filter(|(name, _)| name.starts_with("worksheets")).flat_map(|(_, one)| one.leaves),
        );
    }
}

fn spent() -> f64 {
    cpu(Path::new("/proc/self")).expect("a clock")
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

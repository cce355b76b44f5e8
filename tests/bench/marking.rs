//! How long it takes to mark 300 students, without the PDFs, beside reading the record and the form alone.
//! In: a set made here, its form filled with right answers. Out: criterion's report. Run with `cargo bench --bench marking`.

use std::{fmt::Write, hint::black_box, path::Path};

use criterion::{Criterion, criterion_group, criterion_main};
use labquire::{
    commands::{Console, Ending, run},
    language::Language,
    marking::{self, Marked},
    set::{self, Recorded, SetPlan},
};

const STUDENTS: usize = 300;

/// A set of 300 students, and the path of its filled form.
fn prepare(dir: &Path) -> std::path::PathBuf {
    let class: String = (1..=STUDENTS).fold("id,name\n".to_owned(), |mut text, id| {
        writeln!(text, "{id},Student {id}").expect("a string");
        text
    });
    let file = dir.join("class.csv");
    std::fs::write(&file, class).expect("a class file");
    let (mut out, mut err) = (Vec::new(), Vec::new());
    let folder = dir.join("set");
    let words = ["labquire", "make", "pumped-loop", "--pdf", "plain", "--class"].map(str::to_owned).into_iter();
    let words = words.chain([file.display().to_string(), "--out".to_owned(), folder.display().to_string()]);
    assert_eq!(run(words, &mut Console::new(&mut out, &mut err, false)), Ending::Done);
    let Recorded { answers, experiment, .. } = set::recorded(&folder).expect("a record");
    let tasks: Vec<&str> = experiment.tasks.iter().map(|task| task.id.as_str()).collect();
    let mut form = format!("id,{}\n", tasks.join(","));
    for id in 1..=STUDENTS {
        let answers = &answers[&id.to_string()];
        let cells = tasks.iter().map(|task| answers.get(*task).map_or("", String::as_str));
        writeln!(form, "{id},{}", cells.collect::<Vec<_>>().join(",")).expect("a string");
    }
    let path = dir.join("form.csv");
    std::fs::write(&path, form).expect("a form");
    path
}

fn class(criterion: &mut Criterion) {
    let dir = tempfile::TempDir::new().expect("a temporary folder");
    let form = prepare(dir.path());
    let language = Language::find("en").expect("English");
    let folder = dir.path().join("set");
    let mark = |only_read: bool| {
        let Recorded { experiment, seed, roster, versions, held, limit, .. } =
            &set::recorded(&folder).expect("a record");
        let typed = std::fs::read(&form).expect("a form");
        if only_read {
            return typed.len();
        }
        let plan =
            SetPlan { versions: *versions, limit: *limit, held, ..SetPlan::new(experiment, roster, seed, language) };
        let members = plan.draft(|_, _| true).map_err(|_| "refused").expect("drawn").members;
        let filled = marking::filled(&form, experiment, &members, language).expect("read");
        let marking = marking::mark(experiment, &members, &filled);
        let marked = Marked { experiment, members: &members, marking: &marking, language, names: true };
        marked.csv().len() + marked.xlsx().expect("a workbook").len() + marked.json().to_string().len()
    };
    let mut group = criterion.benchmark_group("300 students");
    group.sample_size(10);
    group.bench_function("read the record and the form", |bencher| bencher.iter(|| black_box(mark(true))));
    group.bench_function("mark, with csv, workbook and JSON", |bencher| bencher.iter(|| black_box(mark(false))));
    group.finish();
}

criterion_group!(benches, class);
criterion_main!(benches);

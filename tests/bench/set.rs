//! What a student costs: drawing, key, source, layout, export. In: the demo class. Out: times by criterion.
//!
//! `cargo bench --bench set`. Compare lines of one run with each other, never with another day's.

use criterion::{Criterion, criterion_group, criterion_main};
use labquire::{
    class,
    compose::{self, View},
    experiment::{self, catalogue},
    key::Key,
    language::Language,
    press::{Documents, Paper, PdfJob, Press},
    set::SetPlan,
    variant,
};

fn stages(criterion: &mut Criterion) {
    let source = catalogue::find("pumped-loop").expect("in the catalogue");
    let (experiment, _) = experiment::load(&source).expect("sound");
    let roster = class::demo();
    let language = Language::find("en").expect("English");
    let plan = SetPlan::new(&experiment, &roster, "bench", language);
    let members = plan.draft(|_, _| true).expect("drawn").members;
    let documents = Documents::new().expect("templates");
    let mut group = criterion.benchmark_group("one student");
    group.bench_function("draw", |bencher| {
        bencher.iter(|| variant::draw(&experiment, "bench", "1").expect("drawn"));
    });
    let variant = variant::draw(&experiment, "bench", "1").expect("drawn");
    group.bench_function("key", |bencher| bencher.iter(|| Key::build(&experiment, &variant, "1").expect("keyed")));
    group.finish();
    for (name, view) in [("worksheets", View::Worksheet), ("keys", View::Key)] {
        let sheets = || -> Vec<_> {
            members
                .iter()
                .map(|member| compose::sheet(&plan.facts(&member.own(), language), plan.labels(member), view))
                .collect()
        };
        let leaf = |sheet: &_| match view {
            View::Worksheet => documents.worksheet("bench", sheet, Paper::A4).expect("a source"),
            View::Key => documents.key("bench", sheet, Paper::A4).expect("a source"),
        };
        let source = || sheets().iter().map(leaf).collect::<Vec<_>>();
        let text = source();
        let mut group = criterion.benchmark_group(format!("24 {name}"));
        group.sample_size(10);
        group.bench_function("to source", |bencher| bencher.iter(source));
        group.bench_function("layout", |bencher| {
            bencher.iter(|| Press::new().document(text.clone()).expect("set").pages().len())
        });
        group.bench_function("layout and export", |bencher| {
            bencher.iter(|| Press::new().pdf(text.clone(), &PdfJob::default()).expect("printed").bytes.len());
        });
        group.finish();
    }
}

criterion_group!(benches, stages);
criterion_main!(benches);

//! What each experiment of the catalogue costs: one run of its bench, and all documents of the demo class.
//! In: the catalogue. Out: criterion's report, a line an experiment. Run with `cargo bench --bench catalogue`.

use std::hint::black_box;

use criterion::{Criterion, criterion_group, criterion_main};
use labquire::{
    class,
    experiment::{self, Experiment, catalogue},
    language::Language,
    set::{Print, Printing, SetPlan},
    variant,
};

fn experiments() -> Vec<Experiment> {
    let sources = catalogue::sources();
    sources.iter().map(|source| experiment::load(source).unwrap_or_else(|faults| panic!("{faults:?}")).0).collect()
}

fn draws(criterion: &mut Criterion) {
    let mut group = criterion.benchmark_group("one student drawn");
    for experiment in experiments() {
        group.bench_function(&experiment.definition.id, |bencher| {
            bencher.iter(|| black_box(variant::draw(&experiment, "bench", "1").expect("drawn")));
        });
    }
    group.finish();
}

fn classes(criterion: &mut Criterion) {
    let roster = class::demo();
    let language = Language::find("en").expect("English");
    let printing = Printing::default();
    let mut group = criterion.benchmark_group("demo class printed");
    group.sample_size(10);
    for experiment in &experiments() {
        let plan = SetPlan::new(experiment, &roster, "bench", language);
        group.bench_function(&experiment.definition.id, |bencher| {
            bencher.iter(|| {
                let members = plan.draft(|_, _| true).expect("drawn").members;
                let print = Print::new(&plan, &members, printing).expect("templates");
                print
                    .run(|_, bytes, _| {
                        black_box(bytes.len());
                        Ok(())
                    })
                    .expect("printed")
            });
        });
    }
    group.finish();
}

criterion_group!(benches, draws, classes);
criterion_main!(benches);

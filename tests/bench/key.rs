//! How long one student takes: draw and simulate, key by the rule, key by Monte Carlo for every answer.
//! In: the catalogue's pumped loop. Out: criterion's report. Run with `cargo bench --bench key`.

use std::hint::black_box;

use criterion::{Criterion, criterion_group, criterion_main};
use labquire::{
    experiment::{self, Experiment, catalogue},
    key::{Key, Rule},
    uncertainty::Method,
    variant::{self, Variant},
};

fn pumped_loop() -> Experiment {
    let source = catalogue::find("pumped-loop").expect("in the catalogue");
    experiment::load(&source).unwrap_or_else(|problems| panic!("{problems:?}")).0
}

fn draw(experiment: &Experiment) -> Variant {
    variant::draw(experiment, "bench", "1").expect("drawn")
}

fn student(criterion: &mut Criterion) {
    let experiment = pumped_loop();
    let variant = draw(&experiment);
    criterion.bench_function("simulate one student", |bencher| bencher.iter(|| black_box(draw(&experiment))));
    for (name, rule) in [
        ("key", Rule::Chosen),
        ("key, first order for every answer", Rule::Always(Method::FirstOrder)),
        ("key, 10,000 draws for every answer", Rule::Always(Method::MonteCarlo)),
    ] {
        let key = || Key::build_by(rule, &experiment, &variant, "1").expect("keyed");
        criterion.bench_function(name, |bencher| bencher.iter(|| black_box(key())));
    }
}

criterion_group!(benches, student);
criterion_main!(benches);

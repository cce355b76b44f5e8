//! Draws: the same for ever, independent of each other, bounded.

use labquire::{
    draw::{Range, Seed},
    experiment::{self, Experiment, catalogue},
    report::Source,
    variant,
};
use rand::Rng;

fn experiment() -> Experiment {
    let source = catalogue::find("pumped-loop").expect("in the catalogue");
    experiment::load(&source).expect("a sound definition").0
}

fn seed<'a>(set: &'a str, student: &'a str) -> Seed<'a> {
    Seed { set, student, attempt: 0 }
}

#[test]
fn streams_differ_by_every_part_of_their_name() {
    let first = |seed: Seed<'_>, name: &str| seed.stream(name).next_u64();
    let base = first(seed("a", "1"), "m");
    assert_eq!(base, first(seed("a", "1"), "m"));
    for other in [
        first(seed("b", "1"), "m"),
        first(seed("a", "2"), "m"),
        first(seed("a", "1"), "A"),
        first(Seed { attempt: 1, ..seed("a", "1") }, "m"),
        // The same letters, split otherwise.
        first(seed("a1", ""), "m"),
        first(seed("", "a1"), "m"),
    ] {
        assert_ne!(base, other);
    }
}

/// Source: Python, `hashlib.sha256` over the length-prefixed parts and the ChaCha20 key stream of the package
/// `cryptography` with a zero counter and nonce (RFC 8439 block function).
#[test]
fn a_stream_is_the_chacha20_key_stream_of_its_name() {
    let mut stream = seed("autumn", "1").stream("m");
    assert_eq!([stream.next_u64(), stream.next_u64()], [0x099e_d4cd_0192_039e, 0x6b48_89f4_492f_d74b]);
}

/// What a seed once printed must come out of it for ever. These numbers are the program's own: only a change is a fault.
#[test]
fn the_numbers_of_a_seed_never_change() {
    let range = Range::new(120.0, 180.0, 1.0, 0).expect("a range");
    let drawn = ["1", "2", "3", "4"].map(|id| range.draw(&seed("autumn", id), "m"));
    assert_eq!(drawn, [120.0, 143.0, 140.0, 143.0]);
}

#[test]
fn ranges_reach_both_ends_and_stay_on_their_grid() {
    let range = Range::new(0.30, 0.40, 0.02, 2).expect("a range");
    assert_eq!(range.count, 6);
    let drawn: std::collections::BTreeSet<String> =
        (0..500).map(|id| format!("{:.2}", range.draw(&seed("s", &id.to_string()), "d"))).collect();
    assert_eq!(drawn.into_iter().collect::<Vec<_>>(), ["0.30", "0.32", "0.34", "0.36", "0.38", "0.40"]);
    let one = seed("s", "1");
    assert_eq!(range.value(range.index(&one, "d")), range.draw(&one, "d"));
    assert_eq!([0, 5].map(|index| range.along(index)), [-1.0, 1.0]);
    assert!((range.along(2) + 0.2).abs() < 1e-12);
    let only = Range::new(0.3, 0.3, 0.02, 2).expect("a range");
    assert_eq!((only.count, only.along(0)), (1, -1.0));
    assert!(Range::new(0.0, 1.0, 0.3, 1).is_err());
    assert!(Range::new(1.0, 0.0, 0.1, 1).is_err());
    assert!(Range::new(0.0, 1.0, 0.0, 1).is_err());
    assert!(Range::new(0.0, 1e9, 0.1, 1).is_err());
}

#[test]
fn readings_are_printed_to_the_resolution() {
    let experiment = experiment();
    let variant = variant::draw(&experiment, "s", "1").expect("drawn");
    let temperatures = variant.table.column("T").expect("a column");
    for text in &temperatures.texts {
        assert_eq!(text.split_once('.').map(|(_, tenths)| tenths.len()), Some(1), "{text}");
    }
}

/// The instrument's offset is one for all readings of a student: readings less truth scatter far less than the class
/// limit allows offsets to.
#[test]
fn an_instrument_keeps_its_offset() {
    let experiment = experiment();
    let mut offsets = Vec::new();
    for student in 0..40 {
        let variant = variant::draw(&experiment, "s", &student.to_string()).expect("drawn");
        let read = &variant.table.column("T").expect("a column").values;
        let apart: Vec<f64> = read
            .iter()
            .zip(&variant::run_of(&experiment, &variant.drawn).expect("a run").columns[0])
            .map(|(read, truth)| read - truth)
            .collect();
        let mean = apart.iter().sum::<f64>() / apart.len() as f64;
        let spread = (apart.iter().map(|one| (one - mean).powi(2)).sum::<f64>() / (apart.len() as f64 - 1.0)).sqrt();
        // Noise 0.05 K and rounding 0.1 K / √12 together: 0.058 K.
        assert!(spread < 0.15, "readings scatter by {spread} K");
        assert!(mean.abs() < 0.5 + 0.1, "offset {mean} K");
        offsets.push(mean);
    }
    assert!(offsets.iter().any(|offset| *offset > 0.2) && offsets.iter().any(|offset| *offset < -0.2), "{offsets:?}");
}

#[test]
fn a_condition_that_can_not_be_met_is_named() {
    let text = catalogue::find("pumped-loop")
        .expect("in the catalogue")
        .text
        .replace("limit(T, t) <= 70 °C", "limit(T, t) <= 21 °C");
    let (experiment, _) = experiment::load(&Source::new("cold.yaml", text)).expect("a sound definition");
    let error = variant::draw(&experiment, "s", "1").expect_err("no draw is that cold");
    assert_eq!(error.rejections.by_condition.iter().sum::<u32>() + error.rejections.by_bench, error.tries);
    let shown = labquire::report::show(&[error.problem(&experiment)], false);
    assert!(shown.contains("limit(T, t) <= 21 °C") && shown.contains("rejected"), "{shown}");
}

//! Draws as chance would have them: evenly over the stated ranges, neighbouring students independent of each other.

use std::collections::HashMap;

use labquire::{
    draw::{Range, Seed},
    experiment::{self, catalogue},
};
use rand::{Rng, SeedableRng};
use rand_chacha::ChaCha20Rng;

/// Quantiles and statistics by scipy, from `tests/reference/spread_of_draws.py`.
fn stored(what: &str, number: usize) -> f64 {
    let text = include_str!("../reference/spread_of_draws.csv");
    let mut reader = csv::ReaderBuilder::new().from_reader(text.as_bytes());
    let mut rows = reader.records().map(|row| row.expect("a row"));
    let row =
        rows.find(|row| &row[0] == what && row[1] == number.to_string()).unwrap_or_else(|| panic!("{what} {number}"));
    row[2].parse().expect("a number")
}

fn chi_square(counts: &[usize]) -> f64 {
    let expected = counts.iter().sum::<usize>() as f64 / counts.len() as f64;
    counts.iter().map(|&count| (count as f64 - expected).powi(2) / expected).sum()
}

/// The largest distance between the empirical distribution of values from 0 to 1 and the even one.
fn kolmogorov(values: &[f64]) -> f64 {
    let mut sorted = values.to_vec();
    sorted.sort_by(f64::total_cmp);
    let count = sorted.len() as f64;
    let distances = sorted.iter().enumerate().map(|(place, value)| {
        let (before, after) = (place as f64 / count, (place + 1) as f64 / count);
        (value - before).max(after - value)
    });
    distances.fold(0.0, f64::max)
}

/// Wald and Wolfowitz's runs above and below the median, as a standard normal deviate.
fn runs(values: &[f64]) -> f64 {
    let mut sorted = values.to_vec();
    sorted.sort_by(f64::total_cmp);
    let middle = sorted.len() / 2;
    let median = if sorted.len() % 2 == 1 { sorted[middle] } else { f64::midpoint(sorted[middle - 1], sorted[middle]) };
    let above: Vec<bool> = values.iter().filter(|value| **value != median).map(|value| *value > median).collect();
    let runs = 1 + above.windows(2).filter(|pair| pair[0] != pair[1]).count();
    let many = above.iter().filter(|above| **above).count() as f64;
    let few = above.len() as f64 - many;
    let mean = 2.0 * many * few / (many + few) + 1.0;
    let variance = (mean - 1.0) * (mean - 2.0) / (many + few - 1.0);
    (runs as f64 - mean) / variance.sqrt()
}

#[test]
fn the_statistics_are_those_of_scipy() {
    let sample = [0.01, 0.12, 0.13, 0.31, 0.32, 0.38, 0.55, 0.61, 0.77, 0.79, 0.86, 0.93, 0.95, 0.40, 0.24];
    let mut counts = [0; 5];
    sample.iter().for_each(|value| counts[(value * 5.0) as usize] += 1);
    for (own, what) in [
        (chi_square(&counts), "chi-square of the sample in five bins"),
        (kolmogorov(&sample), "Kolmogorov distance of the sample"),
        (runs(&sample), "runs of the sample"),
    ] {
        assert!((own - stored(what, 15)).abs() < 1e-12, "{what}: {own}");
    }
}

/// Every drawn quantity of the catalogue takes each value of its range equally often: 200 students for each value.
#[test]
fn drawn_quantities_are_even_over_their_ranges() {
    let mut tested = 0;
    for id in catalogue::ids() {
        let source = catalogue::find(&id).expect("in the catalogue");
        let (experiment, _) = experiment::load(&source).expect("sound");
        for quantity in &experiment.drawn {
            // Long ranges are looked at in blocks of equal length.
            let values = quantity.range.count as usize;
            let block =
                (1..=values).find(|block| values / block <= 300 && values.is_multiple_of(*block)).expect("a divisor");
            let mut counts = vec![0; values / block];
            if counts.len() < 2 {
                continue;
            }
            let places: HashMap<u64, usize> =
                (0..values).map(|place| (quantity.range.value(place as u32).to_bits(), place)).collect();
            for student in 0..200 * counts.len() {
                let seed = Seed { set: "evenness", student: &student.to_string(), attempt: 0 };
                let drawn = quantity.range.draw(&seed, &quantity.id);
                counts[places[&drawn.to_bits()] / block] += 1;
            }
            let (found, bound) = (chi_square(&counts), stored("chi-square quantile", counts.len() - 1));
            assert!(found < bound, "{id}, {}: chi-square {found} with {} values", quantity.id, counts.len());
            tested += 1;
        }
    }
    assert!(tested > 60, "only {tested} quantities");
}

#[test]
fn a_fine_range_is_even_and_neighbouring_ids_are_independent() {
    let range = Range::new(0.0, 1.0, 0.00001, 5).expect("a range");
    for name in ["m", "noise T", "offset thermometer"] {
        let drawn = |attempt| -> Vec<f64> {
            let ids = (0..5000).map(|id: u32| id.to_string());
            ids.map(|id| range.draw(&Seed { set: "evenness", student: &id, attempt }, name)).collect()
        };
        let values = drawn(0);
        let distance = kolmogorov(&values);
        assert!(distance < stored("Kolmogorov quantile", 5000), "{name}: {distance}");
        let deviate = runs(&values);
        assert!(deviate.abs() < stored("normal quantile, two-sided", 0), "{name}: {deviate}");
        // A redraw of the same student is as independent as another student: product of deviations from the middle.
        let again = drawn(1);
        let product: f64 = values.iter().zip(&again).map(|(one, other)| (one - 0.5) * (other - 0.5)).sum();
        // Each product has variance (1/12)².
        let deviate = product / (5000f64.sqrt() / 12.0);
        assert!(deviate.abs() < stored("normal quantile, two-sided", 0), "{name}: correlation {deviate}");
    }
}

/// Source: RFC 8439, section 2.3.2 (block function) and appendix A.1, test vector 1; key streams from memory. The RFC's
/// 32-bit counter and 96-bit nonce are the generator's 64-bit counter and 64-bit stream, word by word.
#[test]
fn the_generator_is_chacha20_of_rfc_8439() {
    let stream = |key: [u8; 32], counter: u64, nonce: u64| {
        let mut generator = ChaCha20Rng::from_seed(key);
        generator.set_stream(nonce);
        generator.set_word_pos(u128::from(counter) * 16);
        let mut bytes = [0; 64];
        generator.fill_bytes(&mut bytes);
        bytes.iter().map(|byte| format!("{byte:02x}")).collect::<String>()
    };
    assert_eq!(
        stream(std::array::from_fn(|place| place as u8), 0x0900_0000_0000_0001, 0x0000_0000_4a00_0000),
        "10f1e7e4d13b5915500fdd1fa32071c4c7d1f4c733c068030422aa9ac3d46c4e\
         d2826446079faa0914c2d705d98b02a2b5129cd1de164eb9cbd083e8a2503c4e"
    );
    assert_eq!(
        stream([0; 32], 0, 0),
        "76b8e0ada0f13d90405d6ae55386bd28bdd219b8a08ded1aa836efcc8b770dc7\
         da41597c5157488d7724e03fb8d84a376a43b8f41518a11cc387b669b2ee6586"
    );
}

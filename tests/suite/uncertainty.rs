//! Uncertainty against published examples: first order, shared errors, distributions, coverage intervals.

use labquire::{
    formula::{self, Node, Value},
    uncertainty::{
        COVERAGE_FACTOR, Deviation, Distribution, Errors, Input, Interval, Method, first_order, monte_carlo,
    },
    variant::Known,
};

use crate::reference::{assert_near, number, rows};

/// Draws that settle three figures of a coverage interval.
const MANY: usize = 1_000_000;

/// Inputs that share no error: name, value, distribution.
fn independent(list: &[(&str, f64, Distribution)]) -> (Known, Vec<Input>, Errors) {
    let (mut known, mut errors) = (Known::default(), Errors::default());
    let inputs = list.iter().map(|(name, value, distribution)| {
        known.add(name, Value::scalar(*value));
        let deviation = Deviation::of(errors.add(*distribution), 1.0);
        Input { name: (*name).to_owned(), row: None, deviation }
    });
    let inputs = inputs.collect();
    (known, inputs, errors)
}

fn parse(text: &str) -> Node {
    formula::parse(text).expect(text)
}

/// Source: JCGM 100:2008, 4.3.7 and F.2.2.1; numbers by GTC type_b.uniform.
#[test]
fn a_half_width_becomes_a_standard_uncertainty() {
    assert_near(Distribution::Rectangular(0.05).standard(), 0.028_867_513_46, 1e-10, "a display in steps of 0.1");
    assert_near(Distribution::Rectangular(0.5).standard(), 0.288_675_134_6, 1e-10, "limits of error of 0.5");
    let thermometer = labquire::readings::Instrument { resolution: 0.1, limit: 0.5, limit_share: 0.0, noise: 0.0 };
    assert_near(thermometer.repeatability(), 0.028_867_513_46, 1e-10, "an instrument without noise");
    // A class limit cancels where one instrument reads twice.
    let better = labquire::readings::Instrument { limit: 0.0, ..thermometer };
    assert_eq!(thermometer.repeatability(), better.repeatability());
}

/// The end gauge: its length in nm, thermal expansion in 1/K, temperatures in K.
fn end_gauge() -> (Node, Known, Vec<Input>, Errors) {
    let (normal, even) = (Distribution::Normal, Distribution::Rectangular);
    let difference = (5.8_f64.powi(2) + 3.9_f64.powi(2) + 6.7_f64.powi(2)).sqrt();
    // The mean temperature has u = 0.2 K, its cyclic variation is arcsine within 0.5 K (4.3.5 note, H.1.3.4).
    let temperature = (0.2_f64.powi(2) + 0.5_f64.powi(2) / 2.0).sqrt();
    let (known, inputs, errors) = independent(&[
        ("ls", 50_000_623.0, normal(25.0)),
        ("d", 215.0, normal(difference)),
        ("as", 11.5e-6, even(2e-6)),
        ("da", 0.0, even(1e-6)),
        ("dt", 0.0, even(0.05)),
        ("th", -0.1, normal(temperature)),
    ]);
    (parse("ls + d - ls * (da * th + as * dt)"), known, inputs, errors)
}

/// Source: JCGM 100:2008, H.1 (u = 32 nm, l = 50 000 838 nm; 31.66 nm by GTC 1.5.1).
#[test]
fn the_end_gauge_to_first_order() {
    let (node, known, inputs, errors) = end_gauge();
    let length = formula::evaluate(&node, &known).expect("a length").number();
    assert!((length - 50_000_838.0).abs() < 0.5, "{length}");
    let standard = first_order(&node, &known, &inputs, &errors).expect("a deviation").standard(&errors);
    assert!((standard - 31.663_879_11).abs() < 0.01, "{standard}");
}

/// Source: JCGM 100:2008, H.1.7: second-order terms raise 32 nm to 34 nm (33.867 nm by GTC 1.5.1). First order can't see
/// them, draws do.
#[test]
fn the_end_gauge_by_monte_carlo_has_its_second_order_terms() {
    let (node, known, inputs, errors) = end_gauge();
    let draws = monte_carlo(&node, &known, &inputs, &errors, MANY).expect("draws");
    let interval = Interval::of(draws).expect("an interval");
    assert!((interval.standard - 33.867_455_45).abs() < 0.15, "{}", interval.standard);
    assert!((interval.mean - 50_000_838.0).abs() < 0.5, "{}", interval.mean);
}

/// Mean values and the triangular root of the covariances of the means of V, I and phi.
fn simultaneous_readings() -> (Known, Vec<Input>, Errors) {
    let table: Vec<[f64; 3]> =
        rows("gum_h2.csv").iter().map(|row| [number(&row[1]), number(&row[2]) / 1000.0, number(&row[3])]).collect();
    let count = table.len() as f64;
    let (mut known, mut errors) = (Known::default(), Errors::default());
    let names = ["V", "I", "phi"];
    let means: Vec<f64> = (0..3).map(|at| table.iter().map(|row| row[at]).sum::<f64>() / count).collect();
    // Each set of readings is an error of its own that the three quantities share (H.2.4, approach 2).
    let mut deviations = vec![Deviation::default(); 3];
    for row in &table {
        let shared = errors.add(Distribution::Normal(1.0 / (count * (count - 1.0)).sqrt()));
        for at in 0..3 {
            deviations[at].add(&Deviation::of(shared, row[at] - means[at]), 1.0);
        }
    }
    let inputs = names.iter().zip(&means).zip(deviations).map(|((name, mean), deviation)| {
        known.add(name, Value::scalar(*mean));
        Input { name: (*name).to_owned(), row: None, deviation }
    });
    let inputs = inputs.collect();
    (known, inputs, errors)
}

/// Source: JCGM 100:2008, H.2, tables H.2 to H.4; full figures by numpy from the raw data.
#[test]
fn resistance_reactance_and_impedance_share_their_readings() {
    let (known, inputs, errors) = simultaneous_readings();
    let correlation = |one: &Deviation, other: &Deviation| {
        one.covariance(other, &errors) / (one.standard(&errors) * other.standard(&errors))
    };
    let (voltage, current, phase) = (&inputs[0].deviation, &inputs[1].deviation, &inputs[2].deviation);
    assert_near(correlation(voltage, current), -0.355_311_219_8, 1e-8, "V and I");
    assert_near(correlation(voltage, phase), 0.857_624_210_8, 1e-8, "V and phi");
    assert_near(correlation(current, phase), -0.645_111_217_7, 1e-8, "I and phi");
    let results = [
        ("V / I * cos(phi)", 127.732_169_9, 0.071_071_407_38),
        ("V / I * sin(phi)", 219.846_511_9, 0.295_581_677_4),
        ("V / I", 254.259_701_9, 0.236_336_130_1),
    ];
    let deviations = results.map(|(text, value, standard)| {
        let node = parse(text);
        assert_near(formula::evaluate(&node, &known).expect(text).number(), value, 1e-8, text);
        let deviation = first_order(&node, &known, &inputs, &errors).expect(text);
        assert!((deviation.standard(&errors) - standard).abs() < 1e-6, "{text}: {}", deviation.standard(&errors));
        let drawn = Interval::of(monte_carlo(&node, &known, &inputs, &errors, MANY).expect(text)).expect(text);
        assert!((drawn.standard - standard).abs() < 0.005 * standard, "{text}: {}", drawn.standard);
        deviation
    });
    assert_near(correlation(&deviations[0], &deviations[1]), -0.588_429_784_3, 1e-5, "R and X");
    assert_near(correlation(&deviations[0], &deviations[2]), -0.485_259_224_1, 1e-5, "R and Z");
    assert_near(correlation(&deviations[1], &deviations[2]), 0.992_511_649, 1e-5, "X and Z");
}

/// Source: JCGM 101:2008, 9.2.2 to 9.2.4, tables 2 to 4 (10.1 and 17.0 from memory); numpy with two million draws.
#[test]
fn sums_of_four_inputs() {
    let even = Distribution::Rectangular(3.0_f64.sqrt());
    let wide = Distribution::Rectangular(10.0 * 3.0_f64.sqrt());
    let cases = [
        ([Distribution::Normal(1.0); 4], 2.0, 3.919_927_969, 0.02),
        ([even; 4], 2.0, 3.876_879_264, 0.02),
        ([even, even, even, wide], 10.148_891_57, 17.015_863_11, 0.06),
    ];
    for (distributions, standard, end, tolerance) in cases {
        let list: Vec<_> =
            ["a", "b", "c", "d"].into_iter().zip(distributions).map(|(name, one)| (name, 0.0, one)).collect();
        let (known, inputs, errors) = independent(&list);
        let node = parse("a + b + c + d");
        let first = first_order(&node, &known, &inputs, &errors).expect("a deviation").standard(&errors);
        assert_near(first, standard, 1e-6, "first order");
        let drawn =
            Interval::of(monte_carlo(&node, &known, &inputs, &errors, MANY).expect("draws")).expect("an interval");
        assert!((drawn.standard - standard).abs() < tolerance, "{}", drawn.standard);
        assert!((drawn.high - end).abs() < tolerance, "{} for {end}", drawn.high);
        assert!((drawn.low + end).abs() < tolerance, "{} for -{end}", drawn.low);
    }
}

/// Source: NIST TN 1900, example E13; numbers by uncertainties 3.2.3.
#[test]
fn a_coefficient_of_expansion() {
    let normal = Distribution::Normal;
    let (known, inputs, errors) = independent(&[
        ("l0", 1.4999, normal(0.0001)),
        ("l1", 1.5021, normal(0.0002)),
        ("t0", 288.15, normal(0.02)),
        ("t1", 373.1, normal(0.05)),
    ]);
    let node = parse("(l1 - l0) / (l0 * (t1 - t0))");
    let value = formula::evaluate(&node, &known).expect("a value").number();
    assert_near(value / 1.726_620_896e-5, 1.0, 1e-8, "coefficient");
    let deviation = first_order(&node, &known, &inputs, &errors).expect("a deviation");
    assert_near(deviation.standard(&errors) / 1.755_477_281e-6, 1.0, 1e-3, "uncertainty");
}

/// What two names share cancels where the formula lets it, by both methods.
#[test]
fn what_is_shared_cancels() {
    let (mut known, mut errors) = (Known::default(), Errors::default());
    let shared = errors.add(Distribution::Normal(0.3));
    let inputs: Vec<Input> = ["a", "b"]
        .into_iter()
        .map(|name| {
            known.add(name, Value::scalar(5.0));
            Input { name: name.to_owned(), row: None, deviation: Deviation::of(shared, 1.0) }
        })
        .collect();
    let difference = parse("a - b");
    assert!(first_order(&difference, &known, &inputs, &errors).expect("a deviation").standard(&errors) < 1e-9);
    let draws = monte_carlo(&difference, &known, &inputs, &errors, 1000).expect("draws");
    assert!(draws.iter().all(|draw| draw.abs() < 1e-9));
    let sum = first_order(&parse("a + b"), &known, &inputs, &errors).expect("a deviation").standard(&errors);
    assert_near(sum, 0.6, 1e-9, "not the 0.42 of independent ones");
}

/// The ends of the 95 % interval of a quotient by both methods, for a relative uncertainty of its divisor.
fn quotient(relative: f64) -> (Method, [f64; 2], [f64; 2]) {
    let (known, inputs, errors) = independent(&[("a", 1.0, Distribution::Normal(relative))]);
    let node = parse("1 / a");
    let deviation = first_order(&node, &known, &inputs, &errors).expect("a deviation");
    let half = COVERAGE_FACTOR * deviation.standard(&errors);
    let drawn = Interval::of(monte_carlo(&node, &known, &inputs, &errors, MANY).expect("draws")).expect("an interval");
    let method = Method::of(&node, &inputs, 1.0, &deviation, &errors);
    (method, [1.0 - half, 1.0 + half], [drawn.low, drawn.high])
}

/// The rule between the methods, by the comparison of JCGM 101:2008, clause 8: where first order is chosen, its ends lie
/// within a quarter of the half-width of those by draws; where it is refused they are further off.
#[test]
fn first_order_is_chosen_only_where_draws_agree() {
    for relative in [0.001, 0.01, 0.03, 0.05, 0.09] {
        let (method, first, drawn) = quotient(relative);
        assert_eq!(method, Method::FirstOrder, "{relative}");
        let half = (first[1] - first[0]) / 2.0;
        for (first, drawn) in first.iter().zip(drawn) {
            assert!((first - drawn).abs() < 0.25 * half, "{relative}: {first} and {drawn}");
        }
    }
    let (method, first, drawn) = quotient(0.25);
    assert_eq!(method, Method::MonteCarlo);
    assert!((first[1] - drawn[1]).abs() > 0.5 * (first[1] - first[0]) / 2.0, "{first:?} {drawn:?}");
}

/// At a kink, sensitivities depend on the side that they are taken from; the largest of two readings lies above both.
#[test]
fn a_kink_is_drawn() {
    let mut known = Known::default();
    known.add("T", Value::column(vec![20.0, 20.0]));
    let mut errors = Errors::default();
    let inputs: Vec<Input> = (0..2)
        .map(|row| Input {
            name: "T".to_owned(),
            row: Some(row),
            deviation: Deviation::of(errors.add(Distribution::Normal(0.1)), 1.0),
        })
        .collect();
    let node = parse("max(T)");
    let deviation = first_order(&node, &known, &inputs, &errors).expect("a deviation");
    assert_eq!(Method::of(&node, &inputs, 20.0, &deviation, &errors), Method::MonteCarlo);
    assert_eq!(Method::of(&parse("mean(T)"), &inputs, 20.0, &deviation, &errors), Method::FirstOrder);
    let drawn = Interval::of(monte_carlo(&node, &known, &inputs, &errors, MANY).expect("draws")).expect("an interval");
    // Mean and standard deviation of the larger of two normal numbers: 1/sqrt(pi) and sqrt(1 - 1/pi) (closed form).
    assert_near(drawn.mean, 20.0 + 0.1 / std::f64::consts::PI.sqrt(), 1e-4, "mean");
    assert!((drawn.standard - 0.1 * (1.0 - 1.0 / std::f64::consts::PI).sqrt()).abs() < 3e-4, "{}", drawn.standard);
}

#[test]
fn draws_without_an_answer_are_not_passed_over() {
    let few = [vec![1.0; 995], vec![f64::NAN; 5]].concat();
    assert!(Interval::of(few).is_some());
    let many = [vec![1.0; 900], vec![f64::NAN; 100]].concat();
    assert_eq!(Interval::of(many), None);
}

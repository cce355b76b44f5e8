//! The search for curves against certified fits, from both certified starts.
//!
//! Source: NIST Statistical Reference Datasets, nonlinear regression (public domain); see `tests/reference/README.md`. Left out are
//! models with functions that the formula language lacks (`atan`: Roszman1; a named `pi`: ENSO), Nelson (two predictors) and Lanczos1
//! (a residual sum of 1e-25).

use std::collections::{BTreeMap, HashMap};

use labquire::formula::{self, Curve, CurveFit, Node, Value, Values};

use crate::reference::{number, rows};

/// A model with parameters b1, b2, ….
struct Model {
    node: Node,
}

struct World(HashMap<String, Value>);

impl Values for World {
    fn value_of(&self, name: &str) -> Option<&Value> {
        self.0.get(name)
    }
}

impl Curve for Model {
    fn value(&self, x: f64, parameters: &[f64]) -> f64 {
        let mut world = HashMap::from([("x".to_owned(), Value::scalar(x))]);
        world.extend(parameters.iter().enumerate().map(|(at, value)| (format!("b{}", at + 1), Value::scalar(*value))));
        formula::evaluate(&self.node, &World(world)).map_or(f64::NAN, |value| value.number())
    }

    fn gradient(&self, x: f64, parameters: &[f64], slopes: &mut [f64]) {
        // Of fourth order, so that the last certified digits are not lost to the step.
        for (at, slope) in slopes.iter_mut().enumerate() {
            let step = 1e-3 * parameters[at].abs().max(1e-8);
            let moved = |by: f64| {
                let mut moved = parameters.to_vec();
                moved[at] += by * step;
                self.value(x, &moved)
            };
            *slope = (8.0 * (moved(1.0) - moved(-1.0)) - (moved(2.0) - moved(-2.0))) / (12.0 * step);
        }
    }
}

/// Starts from which a search by Levenberg and Marquardt alone runs away: the certified first starts are meant to be hard.
const HARD: [(&str, usize); 1] = [("BoxBOD", 1)];

#[test]
fn certified_fits_from_both_starts() {
    let mut sets: BTreeMap<String, Vec<Vec<String>>> = BTreeMap::new();
    for row in rows("nist_nonlinear.csv") {
        sets.entry(row[0].clone()).or_default().push(row);
    }
    let data = rows("nist_nonlinear_data.csv");
    let (mut fitted, mut failures) = (0, Vec::new());
    for (set, parameters) in &sets {
        let model = &parameters[0][2];
        if model.contains("atan") || model.contains("pi") {
            continue;
        }
        let node = formula::parse(model).unwrap_or_else(|fault| panic!("{set}: {}", fault.message));
        let (x, y): (Vec<f64>, Vec<f64>) =
            data.iter().filter(|row| row[0] == *set).map(|row| (number(&row[1]), number(&row[2]))).unzip();
        for start in [1, 2] {
            let from: Vec<f64> = parameters.iter().map(|row| number(&row[3 + start])).collect();
            let found = CurveFit::search(&Model { node: node.clone() }, &x, &y, &from);
            let near = found.as_ref().is_ok_and(|found| {
                let values = parameters
                    .iter()
                    .zip(&found.parameters)
                    .all(|(row, value)| (value / number(&row[6]) - 1.0).abs() < 1e-5);
                let spreads = parameters
                    .iter()
                    .zip(&found.uncertainties)
                    .all(|(row, spread)| (spread / number(&row[7]) - 1.0).abs() < 1e-3);
                values && spreads && (found.residual_sum / number(&parameters[0][8]) - 1.0).abs() < 1e-6
            });
            fitted += 1;
            if !near && !HARD.contains(&(set.as_str(), start)) {
                failures.push(format!("{set} from start {start}: {found:?}"));
            }
        }
    }
    assert!(fitted >= 40, "{fitted}");
    assert!(failures.is_empty(), "{}", failures.join("\n"));
}

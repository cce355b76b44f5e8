//! Students as a set would draw them. In: an experiment. Out: variants and keys. It must be the same each time.

use crate::{
    draw::Seed,
    experiment::Experiment,
    formula,
    key::{Key, KeyError},
    variant::{Known, Variant, attempt},
};

/// Students whose keys are looked at.
const STUDENTS: usize = 60;

/// Draws after which no more students are looked for.
pub(super) const DRAWS: u32 = 240;

/// The set that the draws belong to; any other would do.
const SET: &str = "review";

pub(super) struct Sample {
    /// For each draw that the bench took: which conditions it meets.
    pub(super) met: Vec<Vec<bool>>,
    /// What the bench said of the last draw that it refused.
    pub(super) refusal: Option<String>,
    /// The keys of the draws that meet all conditions.
    pub(super) keys: Vec<Key>,
    /// Their readings.
    pub(super) variants: Vec<Variant>,
    /// The first key that could not be computed.
    pub(super) failure: Option<KeyError>,
}

impl Sample {
    pub(super) fn draw(experiment: &Experiment) -> Self {
        let mut sample = Self { met: Vec::new(), refusal: None, keys: Vec::new(), variants: Vec::new(), failure: None };
        for number in 0..DRAWS {
            if sample.keys.len() == STUDENTS {
                break;
            }
            let student = format!("student {number}");
            match attempt(experiment, &Seed { set: SET, student: &student, attempt: 0 }) {
                Ok(variant) => sample.look(experiment, &student, variant),
                Err(error) => sample.refusal = Some(error.to_string()),
            }
        }
        sample
    }

    fn look(&mut self, experiment: &Experiment, student: &str, variant: Variant) {
        let known = Known::of(experiment, &variant);
        let holds = |condition| formula::holds(condition, &known).unwrap_or(false);
        let met: Vec<bool> = experiment.conditions.iter().map(holds).collect();
        if met.iter().all(|&met| met) {
            match Key::build(experiment, &variant, student) {
                Ok(key) => {
                    self.keys.push(key);
                    self.variants.push(variant);
                }
                Err(error) => self.failure = self.failure.take().or(Some(error)),
            }
        }
        self.met.push(met);
    }
}

//! Guesses what a draw would give, before its bench is run. In: an experiment and the set's seed. Out: whether its conditions are
//! likely to hold, and what its answers are likely to be. It may only say which draws are worth a run; it must accept none.

use rayon::prelude::*;

use super::surface::Surface;
use crate::{
    class::Edition,
    copying::Offer,
    draw::Seed,
    experiment::{
        Experiment,
        plan::{DrawnQuantity, TaskBody},
    },
    formula::{self, Value, Values},
    key,
    variant::{self, Known},
};

/// Runs to learn from, for each weight of a surface.
const RUNS: u32 = 3;

/// The name of these runs' random streams: no student's id is empty, and the runs are the same whoever is in the class.
const NOBODY: &str = "";

/// What to expect of the draws of an experiment.
pub(super) struct Guess {
    /// By how much each condition holds, in SI.
    margins: Vec<Surface>,
    /// The value in SI of each numeric task, by its place in the file.
    answers: Vec<Option<Surface>>,
}

impl Guess {
    /// Learns from runs that belong to nobody; nothing where too few of them can be made.
    pub(super) fn learn(experiment: &Experiment, set: &str) -> Option<Self> {
        let run = |attempt| {
            let seed = Seed { set, student: NOBODY, attempt };
            let variant = variant::attempt(experiment, &seed).ok()?;
            let known = key::answered(experiment, &variant, NOBODY).ok()?;
            Some((place(experiment, &seed), known))
        };
        let runs = RUNS * Surface::weights(experiment.drawn.len()) as u32;
        let runs: Vec<(Vec<f64>, Known)> = (0..runs).into_par_iter().filter_map(run).collect();
        let (places, runs): (Vec<Vec<f64>>, Vec<Known>) = runs.into_iter().unzip();
        let surface =
            |value: &dyn Fn(&Known) -> f64| Surface::fit(&places, &runs.iter().map(value).collect::<Vec<_>>());
        let margins = experiment.conditions.iter();
        let margins = margins.map(|holds| surface(&|known| formula::margin(holds, known).unwrap_or(f64::NAN)));
        let answers = experiment.tasks.iter().map(|task| match &task.body {
            TaskBody::Number(_) => surface(&|known| known.value_of(&task.id).map_or(f64::NAN, Value::number)),
            TaskBody::Column(_) | TaskBody::Graph(_) | TaskBody::Text => None,
        });
        Some(Self { margins: margins.collect::<Option<_>>()?, answers: answers.collect() })
    }

    /// Whether a draw at a place is likely to meet all conditions.
    pub(super) fn meets(&self, place: &[f64]) -> bool {
        self.margins.iter().all(|margin| margin.at(place) >= 0.0)
    }

    /// What a sheet of an edition is likely to offer to copy; an answer that nothing is known about is no number.
    pub(super) fn offer(&self, experiment: &Experiment, edition: Edition, place: &[f64]) -> Offer {
        let answer = |task: usize| self.answers[task].as_ref().map_or(f64::NAN, |surface| surface.at(place));
        Offer::guessed(experiment, edition, answer)
    }
}

/// Where the values that a draw gives lie in their ranges, each from -1 to 1.
pub(super) fn place(experiment: &Experiment, seed: &Seed<'_>) -> Vec<f64> {
    let along = |quantity: &DrawnQuantity| quantity.range.along(quantity.range.index(seed, &quantity.id));
    experiment.drawn.iter().map(along).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{
        experiment::{self, catalogue},
        variant::Outcome,
    };

    fn experiment(id: &str) -> Experiment {
        experiment::load(&catalogue::find(id).expect("in the catalogue")).expect("sound").0
    }

    /// Of a student's first draws those that a guess passes are far likelier to meet the conditions than others.
    #[test]
    fn most_of_what_is_passed_over_would_be_turned_down() {
        let experiment = experiment("pumped-loop");
        let guess = Guess::learn(&experiment, "a set").expect("enough runs");
        // By what the guess says, then by what is so.
        let mut counts = [[0_u32; 2]; 2];
        for attempt in 0..400 {
            let seed = Seed { set: "a set", student: "Ada", attempt };
            let said = guess.meets(&place(&experiment, &seed));
            let so = matches!(variant::outcome(&experiment, &seed), Outcome::Good(_));
            counts[usize::from(said)][usize::from(so)] += 1;
        }
        let [[right_no, wrong_no], [wrong_yes, right_yes]] = counts;
        assert!(right_yes > 4 * wrong_yes, "{counts:?}");
        assert!(right_no > 4 * wrong_no, "{counts:?}");
    }

    /// A guess is near to the answers that a run gives, most of the time: within a twentieth.
    #[test]
    fn answers_are_guessed_from_what_is_drawn() {
        let experiment = experiment("pumped-loop");
        let guess = Guess::learn(&experiment, "a set").expect("enough runs");
        let (mut near, mut all) = (0, 0);
        for attempt in 0..40 {
            let seed = Seed { set: "a set", student: "Ada", attempt };
            let variant = variant::attempt(&experiment, &seed).expect("in range");
            let known = key::answered(&experiment, &variant, "Ada").expect("answers");
            let place = place(&experiment, &seed);
            for (task, surface) in experiment.tasks.iter().zip(&guess.answers) {
                let (Some(surface), Some(answer)) = (surface, known.value_of(&task.id)) else { continue };
                all += 1;
                near += u32::from((surface.at(&place) / answer.number() - 1.0).abs() < 0.05);
            }
        }
        assert!(all >= 40 * 8, "{all}");
        assert!(f64::from(near) > 0.8 * f64::from(all), "{near} of {all}");
    }
}

//! What copying earns between the sheets of an edition. In: what each accepts. Out: shares by pair. It must order nobody.

use serde::Serialize;

use crate::{
    copying::{CopyLimit, Expected},
    experiment::Experiment,
};

/// Pairs that are listed as the worst.
const WORST: usize = 5;

/// What each sheet's right answers earn on each other sheet.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Pairs {
    /// Ordered pairs of different sheets.
    pub count: usize,
    /// How many are above the limit.
    pub above: usize,
    /// The mean share of numeric marks earned.
    pub mean: f64,
    /// The largest.
    pub most: f64,
    /// The pairs that earn most, the first the most.
    pub worst: Vec<Worst>,
    /// The share that the row's answers earn on the column's sheet; on the diagonal 1.
    pub shares: Vec<Vec<f64>>,
    /// For each numeric task, the share of pairs in which the answer is accepted.
    #[serde(skip)]
    pub shared_by_task: Vec<f64>,
}

/// A pair of sheets, by their places in the list.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Worst {
    /// Whose answers are copied.
    pub from: usize,
    /// Onto whose sheet.
    pub on: usize,
    /// The share of numeric marks earned.
    pub share: f64,
    /// The tasks in which they are accepted.
    pub tasks: Vec<String>,
}

impl Pairs {
    pub(super) fn of(sheets: &[Expected], limit: CopyLimit, experiment: &Experiment) -> Self {
        let mut found = Self {
            count: sheets.len() * sheets.len().saturating_sub(1),
            above: 0,
            mean: 0.0,
            most: 0.0,
            worst: Vec::new(),
            shares: vec![vec![1.0; sheets.len()]; sheets.len()],
            shared_by_task: vec![0.0; sheets.first().map_or(0, |first| first.numbers.len())],
        };
        for (from, source) in sheets.iter().enumerate() {
            for (on, sheet) in sheets.iter().enumerate().filter(|(on, _)| *on != from) {
                let (mut earned, mut tasks) = (0, Vec::new());
                for number in sheet.accepted(&source.offer) {
                    earned += number.marks;
                    tasks.push(experiment.tasks[number.task].id.clone());
                    if let Some(place) = sheet.numbers.iter().position(|own| own.task == number.task) {
                        found.shared_by_task[place] += 1.0 / found.count as f64;
                    }
                }
                let share = f64::from(earned) / f64::from(sheet.marks().max(1));
                found.shares[from][on] = share;
                found.above += usize::from(!limit.allows(earned, sheet.marks()));
                found.mean += share / found.count as f64;
                found.most = found.most.max(share);
                found.worst.push(Worst { from, on, share, tasks });
            }
        }
        found.worst.sort_by(|one, other| other.share.total_cmp(&one.share));
        found.worst.retain(|pair| pair.share > 0.0);
        found.worst.truncate(WORST);
        found
    }
}

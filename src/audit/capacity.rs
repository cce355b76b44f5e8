//! How many sheets an experiment can keep apart. In: an experiment, an edition, a limit. Out: counts from trial classes.
//! It must not know the class at hand: the answer is the definition's own.

use serde::Serialize;

use crate::{
    class::Edition,
    copying::CopyLimit,
    experiment::Experiment,
    set::{Ticket, place},
};

/// The size of the trial classes: a third more than a full class.
const CLASS: usize = 40;

/// The seeds of the trial classes.
const SEEDS: [&str; 3] = ["capacity 1", "capacity 2", "capacity 3"];

/// How many sheets of an edition could be kept apart in trial classes.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
pub struct Capacity {
    /// In the trial class with the fewest.
    pub least: usize,
    /// In the trial class with the most.
    pub most: usize,
    /// The students of each trial class: a count as high as this only says that all of them had room.
    pub tried: usize,
}

impl Capacity {
    /// Draws trial classes, each on a thread of its own.
    pub fn of(experiment: &Experiment, edition: Edition, limit: CopyLimit) -> Self {
        let tickets: Vec<Ticket> = (1..=CLASS)
            .map(|student| Ticket { sheets: vec![(edition, false)], ..Ticket::new(&student.to_string()) })
            .collect();
        let room = |seed| match place(experiment, seed, limit, &tickets, |_| true) {
            Ok(placed) => placed.iter().flatten().filter(|one| one.apart).count(),
            Err(_) => 0,
        };
        let counts: Vec<usize> = std::thread::scope(|scope| {
            let trials = SEEDS.map(|seed| scope.spawn(move || room(seed)));
            trials.into_iter().map(|trial| trial.join().unwrap_or_default()).collect()
        });
        let least = counts.iter().copied().min().unwrap_or_default();
        Self { least, most: counts.iter().copied().max().unwrap_or_default(), tried: CLASS }
    }
}

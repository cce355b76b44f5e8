//! Draws sheets apart from each other. In: who gets readings, and how much copying may pay. Out: data and keys, redrawn where a
//! neighbour's answers would be worth too much. It must not depend on the order in which students are listed.
//!
//! Students come one after the other in the natural order of their ids (2 before 10). Each keeps the first draw that is
//! apart from all who came before, in both directions and within the same edition; so whoever is added behind the
//! others moves nobody. Readings that are held already come before all others and stay. Where no draw is apart, the first
//! is kept and the shortfall told.

use std::collections::HashMap;

use rayon::prelude::*;

use super::{Held, SetError};
use crate::{
    class::Edition,
    copying::{CopyLimit, Expected, Offer},
    draw::Seed,
    experiment::Experiment,
    graph::GraphPaper,
    key::{self, Key},
    variant::{self, DrawError, Outcome, Variant},
};

/// Good draws that are tried for one student until it counts as out of room.
const MOST_REDRAWS: u32 = 400;

/// Draws in a row that may be turned down for other reasons until a student counts as out of room.
const MOST_TURNED_DOWN: u32 = 200;

/// First draws that are made at a time, on all cores.
const FIRSTS: usize = 64;

/// Students without room, one after the other, from which on an edition counts as full: later ones keep their first draw.
const FULL: u32 = 3;

/// One who gets readings: a student, or a version that several share.
#[derive(Debug, Clone)]
pub struct Ticket {
    /// What its random streams are named after.
    pub stream: String,
    /// The sheets that are made of its readings: edition, and whether in large print.
    pub sheets: Vec<(Edition, bool)>,
    /// What stays as it is.
    pub held: Option<Held>,
}

impl Ticket {
    /// A ticket without sheets so far.
    pub fn new(stream: &str) -> Self {
        Self { stream: stream.to_owned(), sheets: Vec::new(), held: None }
    }
}

/// Readings with the keys to their sheets.
#[derive(Debug, Clone)]
pub struct Placed {
    /// The readings.
    pub variant: Variant,
    /// A key for each of the ticket's sheets.
    pub keys: Vec<Key>,
    /// How many draws before this one were too near to another's.
    pub redrawn: u32,
    /// Whether it is apart from all that came before it.
    pub apart: bool,
}

/// Draws for each ticket; gives them in the order of the tickets. Those that nobody `needed` and whose readings have no say in
/// others' are left out.
///
/// # Errors
/// A [`SetError`] for every ticket of which not even a first draw could be made or keyed.
pub fn place(
    experiment: &Experiment,
    seed: &str,
    limit: CopyLimit,
    tickets: &[Ticket],
    needed: impl Fn(&Ticket) -> bool + Sync,
) -> Result<Vec<Option<Placed>>, Vec<SetError>> {
    let mut order: Vec<usize> = (0..tickets.len()).collect();
    order.sort_by(|&one, &other| {
        let held = |ticket: usize| tickets[ticket].held.is_none();
        held(one).cmp(&held(other)).then_with(|| natural(&tickets[one].stream, &tickets[other].stream))
    });
    let first = |ticket: &Ticket| variant::draw(experiment, seed, &ticket.stream);
    let mut placer = Placer { experiment, seed, limit, taken: Vec::new(), failed: [0; 3] };
    let mut placed: Vec<Option<Placed>> = vec![None; tickets.len()];
    let mut errors = Vec::new();
    // Once an edition is full its later tickets keep their first draws, which depend on nobody.
    let mut free = Vec::new();
    for chunk in order.chunks(FIRSTS) {
        let bound = |index: &usize| tickets[*index].held.is_none() && !placer.is_full(&tickets[*index]);
        let drawn: Vec<usize> = chunk.iter().copied().filter(bound).collect();
        // First draws depend on nobody.
        let mut firsts: HashMap<usize, Result<Variant, DrawError>> =
            drawn.into_par_iter().map(|index| (index, first(&tickets[index]))).collect();
        for &index in chunk {
            let ticket = &tickets[index];
            let found = match (&ticket.held, firsts.remove(&index)) {
                (Some(held), _) => placer.keep(ticket, held),
                (None, _) if placer.is_full(ticket) => {
                    free.extend(needed(ticket).then_some(index));
                    continue;
                }
                (None, Some(Ok(first))) => placer.place(ticket, first),
                (None, Some(Err(error))) => Err(error.into()),
                (None, None) => continue,
            };
            match found {
                Ok(one) => placed[index] = Some(one),
                Err(error) => errors.push(error),
            }
        }
    }
    let kept: Vec<(usize, Result<Placed, SetError>)> = free
        .into_par_iter()
        .map(|index| {
            let ticket = &tickets[index];
            let drawn = first(ticket).map_err(SetError::from);
            (index, drawn.and_then(|first| placer.first(ticket, first)))
        })
        .collect();
    for (index, found) in kept {
        match found {
            Ok(one) => placed[index] = Some(one),
            Err(error) => errors.push(error),
        }
    }
    if errors.is_empty() { Ok(placed) } else { Err(errors) }
}

/// Numbers within a text count as numbers; texts that then are equal fall apart by their signs.
pub(super) fn natural(one: &str, other: &str) -> std::cmp::Ordering {
    alphanumeric_sort::compare_str(one, other).then_with(|| one.cmp(other))
}

/// What a draw is good for.
enum Judged {
    /// It is apart from all that are taken.
    Apart(Box<Variant>, Vec<Key>),
    /// It meets the conditions, but copied answers would earn too much, or a task has no answer.
    Near,
    /// It does not meet the conditions.
    TurnedDown,
}

struct Placer<'a> {
    experiment: &'a Experiment,
    seed: &'a str,
    limit: CopyLimit,
    /// Sheets that are given out, by edition.
    taken: Vec<(Edition, Expected)>,
    /// For each edition: tickets in a row that found no room.
    failed: [u32; 3],
}

impl Placer<'_> {
    fn place(&mut self, ticket: &Ticket, first: Variant) -> Result<Placed, SetError> {
        let found = self.search(ticket, &first);
        for (edition, _) in &ticket.sheets {
            let failed = &mut self.failed[*edition as usize];
            *failed = if found.is_some() { 0 } else { *failed + 1 };
        }
        match found {
            Some(placed) => {
                self.take(ticket, &placed.keys);
                Ok(placed)
            }
            None => self.first(ticket, first),
        }
    }

    /// Whether no room is looked for any more in one of the ticket's editions.
    fn is_full(&self, ticket: &Ticket) -> bool {
        ticket.sheets.iter().any(|(edition, _)| self.failed[*edition as usize] >= FULL)
    }

    /// The first draw, near to others or not.
    fn first(&self, ticket: &Ticket, first: Variant) -> Result<Placed, SetError> {
        Ok(Placed { keys: self.keys(ticket, &first)?, variant: first, redrawn: 0, apart: false })
    }

    fn keep(&mut self, ticket: &Ticket, held: &Held) -> Result<Placed, SetError> {
        let keys = self.keys(ticket, &held.variant)?;
        self.take(ticket, &keys);
        Ok(Placed { variant: held.variant.clone(), keys, redrawn: held.redrawn, apart: held.apart })
    }

    fn take(&mut self, ticket: &Ticket, keys: &[Key]) {
        let sheets = ticket.sheets.iter().zip(keys);
        let expected = sheets.map(|((edition, _), key)| (*edition, Expected::of(self.experiment, *edition, key)));
        self.taken.extend(expected);
    }

    /// The first draw from a good one on that is apart from all that are taken.
    ///
    /// As many draws are judged at a time as there are cores, some of the last ones in vain; which of them is taken does not depend
    /// on that.
    fn search(&self, ticket: &Ticket, first: &Variant) -> Option<Placed> {
        let (mut redrawn, mut turned_down) = (0, 0);
        let batch = u32::try_from(rayon::current_num_threads()).unwrap_or(1);
        let mut next = first.attempt + 1;
        let mut judged = vec![self.judge(ticket, first.clone())];
        loop {
            for judgement in judged {
                match judgement {
                    Judged::Apart(variant, keys) => {
                        return Some(Placed { variant: *variant, keys, redrawn, apart: true });
                    }
                    Judged::Near => (redrawn, turned_down) = (redrawn + 1, 0),
                    Judged::TurnedDown => turned_down += 1,
                }
                if redrawn == MOST_REDRAWS || turned_down == MOST_TURNED_DOWN {
                    return None;
                }
            }
            judged = (next..next + batch).into_par_iter().map(|attempt| self.draw(ticket, attempt)).collect();
            next += batch;
        }
    }

    fn draw(&self, ticket: &Ticket, attempt: u32) -> Judged {
        let seed = Seed { set: self.seed, student: &ticket.stream, attempt };
        match variant::outcome(self.experiment, &seed) {
            Outcome::Good(variant) => self.judge(ticket, *variant),
            Outcome::Unmet(_) | Outcome::Refused(_) => Judged::TurnedDown,
        }
    }

    /// What a draw that meets the conditions is good for.
    fn judge(&self, ticket: &Ticket, variant: Variant) -> Judged {
        let Ok(known) = key::answered(self.experiment, &variant, &ticket.stream) else { return Judged::Near };
        // Cheap before dear: what this draw would earn elsewhere needs no ranges of its own.
        let mut sheets = ticket.sheets.iter();
        if !sheets.all(|(edition, _)| self.worth_little(*edition, &Offer::of(self.experiment, *edition, &known))) {
            return Judged::Near;
        }
        let Ok(keys) = self.keys(ticket, &variant) else { return Judged::Near };
        let mut sheets = ticket.sheets.iter().zip(&keys);
        if sheets.all(|((edition, _), key)| self.gains_little(*edition, key)) {
            Judged::Apart(Box::new(variant), keys)
        } else {
            Judged::Near
        }
    }

    fn keys(&self, ticket: &Ticket, variant: &Variant) -> Result<Vec<Key>, SetError> {
        let key = |(edition, large): &(Edition, bool)| {
            Key::build_for(*edition, GraphPaper::of(*large), self.experiment, variant, &ticket.stream)
        };
        Ok(ticket.sheets.iter().map(key).collect::<Result<_, _>>()?)
    }

    fn others(&self, edition: Edition) -> impl Iterator<Item = &Expected> {
        self.taken.iter().filter(move |(taken, _)| *taken == edition).map(|(_, expected)| expected)
    }

    /// Whether these answers earn little enough on every sheet that is taken.
    fn worth_little(&self, edition: Edition, offer: &Offer) -> bool {
        self.others(edition).all(|other| self.limit.allows(other.earned_with(offer), other.marks()))
    }

    /// Whether the answers of every sheet that is taken earn little enough here.
    fn gains_little(&self, edition: Edition, key: &Key) -> bool {
        let own = Expected::of(self.experiment, edition, key);
        self.others(edition).all(|other| self.limit.allows(own.earned_with(&other.offer), own.marks()))
    }
}

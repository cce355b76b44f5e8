//! Draws sheets apart from each other. In: who gets readings, and how much copying may pay. Out: data and keys, redrawn where a
//! neighbour's answers would be worth too much. It must not depend on the order in which students are listed.
//!
//! Students come one after the other in the natural order of their ids (2 before 10). Each keeps the first draw that is
//! apart from all who came before, in both directions and within the same edition; so whoever is added behind the
//! others moves nobody. Once a first draw is too near, later ones are run where a guess says that they are worth it, as most
//! would be turned down. Readings that are held already come before all others and stay. Where no draw is apart, the first is
//! kept and the shortfall told.

mod guess;
mod placer;
mod surface;

use std::collections::HashMap;

use rayon::prelude::*;

use self::placer::Placer;
use super::{Held, Packed, SetError};
use crate::{
    class::Edition,
    copying::CopyLimit,
    experiment::Experiment,
    variant::{self, DrawError, Variant},
};

/// First draws that are made at a time, on all cores.
const FIRSTS: usize = 64;

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
    /// The readings with the key to each of the ticket's sheets.
    pub packed: Vec<Packed>,
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
    let mut placer = Placer::new(experiment, seed, limit);
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
                (None, drawn) if placer.is_full(ticket) => {
                    free.extend(needed(ticket).then_some((index, drawn)));
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
        .map(|(index, drawn)| {
            let ticket = &tickets[index];
            let drawn = drawn.unwrap_or_else(|| first(ticket)).map_err(SetError::from);
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

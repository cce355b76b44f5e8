//! Draws sheets apart from each other. In: who gets readings, and how much copying may pay. Out: data and keys, redrawn where a
//! neighbour's answers would be worth too much. It must not depend on the order in which students are listed.
//!
//! Students come one after the other in the natural order of their ids (2 before 10). Each keeps the first draw that is
//! apart from all who came before, in both directions and within the same edition; so whoever is added behind the
//! others moves nobody. Readings that are held already come before all others and stay. Where no draw is apart, the first
//! is kept and the shortfall told.

use super::SetError;
use crate::{
    class::Edition,
    copying::{CopyLimit, Expected, Offer},
    experiment::Experiment,
    graph::GraphPaper,
    key::{self, Key},
    variant::{self, Variant},
};

/// Draws that are tried for one student until it counts as out of room.
const MOST_REDRAWS: u32 = 400;

/// Students without room, one after the other, from which on an edition counts as full: later ones keep their first draw.
const FULL: u32 = 3;

/// One who gets readings: a student, or a version that several share.
#[derive(Debug, Clone, PartialEq)]
pub struct Ticket {
    /// What its random streams are named after.
    pub stream: String,
    /// The sheets that are made of its readings: edition, and whether in large print.
    pub sheets: Vec<(Edition, bool)>,
    /// Readings that stay as they are, and how often they had been redrawn.
    pub held: Option<(Variant, u32)>,
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

/// Draws for each ticket; gives them in the order of the tickets.
///
/// # Errors
/// A [`SetError`] for every ticket of which not even a first draw could be made or keyed.
pub fn place(
    experiment: &Experiment,
    seed: &str,
    limit: CopyLimit,
    tickets: &[Ticket],
) -> Result<Vec<Placed>, Vec<SetError>> {
    let mut order: Vec<usize> = (0..tickets.len()).collect();
    order.sort_by(|&one, &other| {
        let held = |ticket: usize| tickets[ticket].held.is_none();
        held(one).cmp(&held(other)).then_with(|| natural(&tickets[one].stream, &tickets[other].stream))
    });
    let mut placer = Placer { experiment, seed, limit, taken: Vec::new(), failed: [0; 3] };
    let mut placed: Vec<Option<Placed>> = vec![None; tickets.len()];
    let mut errors = Vec::new();
    for index in order {
        match placer.place(&tickets[index]) {
            Ok(one) => placed[index] = Some(one),
            Err(error) => errors.push(error),
        }
    }
    if errors.is_empty() { Ok(placed.into_iter().flatten().collect()) } else { Err(errors) }
}

/// Numbers within a text count as numbers; texts that then are equal fall apart by their signs.
pub(super) fn natural(one: &str, other: &str) -> std::cmp::Ordering {
    alphanumeric_sort::compare_str(one, other).then_with(|| one.cmp(other))
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
    fn place(&mut self, ticket: &Ticket) -> Result<Placed, SetError> {
        if let Some((variant, redrawn)) = &ticket.held {
            let keys = self.keys(ticket, variant)?;
            self.take(ticket, &keys);
            return Ok(Placed { variant: variant.clone(), keys, redrawn: *redrawn, apart: true });
        }
        let first = variant::draw(self.experiment, self.seed, &ticket.stream)?;
        let full = ticket.sheets.iter().any(|(edition, _)| self.failed[*edition as usize] >= FULL);
        let found = if full { None } else { self.search(ticket, &first)? };
        for (edition, _) in &ticket.sheets {
            let failed = &mut self.failed[*edition as usize];
            *failed = if found.is_some() { 0 } else { *failed + 1 };
        }
        let placed = match found {
            Some(placed) => placed,
            None => Placed { keys: self.keys(ticket, &first)?, variant: first, redrawn: 0, apart: false },
        };
        if placed.apart {
            self.take(ticket, &placed.keys);
        }
        Ok(placed)
    }

    fn take(&mut self, ticket: &Ticket, keys: &[Key]) {
        let sheets = ticket.sheets.iter().zip(keys);
        let expected = sheets.map(|((edition, _), key)| (*edition, Expected::of(self.experiment, *edition, key)));
        self.taken.extend(expected);
    }

    /// The first draw that is apart from all that are taken.
    fn search(&self, ticket: &Ticket, first: &Variant) -> Result<Option<Placed>, SetError> {
        let mut variant = first.clone();
        for redrawn in 0..MOST_REDRAWS {
            // Cheap before dear: what this draw would earn elsewhere needs no ranges of its own.
            let known = key::answered(self.experiment, &variant, &ticket.stream);
            let offers = |edition| Some(Offer::of(self.experiment, edition, known.as_ref().ok()?));
            let mut sheets = ticket.sheets.iter();
            if sheets.all(|(edition, _)| offers(*edition).is_some_and(|offer| self.worth_little(*edition, &offer))) {
                let keys = self.keys(ticket, &variant)?;
                let mut sheets = ticket.sheets.iter().zip(&keys);
                if sheets.all(|((edition, _), key)| self.gains_little(*edition, key)) {
                    return Ok(Some(Placed { variant, keys, redrawn, apart: true }));
                }
            }
            match variant::draw_after(self.experiment, self.seed, &ticket.stream, variant.attempt + 1) {
                Ok(next) => variant = next,
                Err(_) => return Ok(None),
            }
        }
        Ok(None)
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

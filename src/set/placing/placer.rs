//! Finds each student's draw. In: sheets that are given out, and a student's first draw. Out: a draw that is apart from them, or none.
//! It must depend on nothing but the seed, the student, and who came before.

use std::sync::OnceLock;

use super::{
    Placed, Ticket,
    guess::{self, Guess},
};
use crate::{
    class::Edition,
    copying::{CopyLimit, Expected, Offer},
    draw::Seed,
    experiment::Experiment,
    graph::GraphPaper,
    key::{self, Key},
    set::{Held, Packed, Packer, SetError},
    variant::{self, Outcome, Variant},
};

/// Draws that are looked at for one student until it counts as out of room.
const MOST_LOOKED_AT: u32 = 4000;

/// Draws of these that are run and judged.
const MOST_JUDGED: usize = 150;

/// One in so many draws is judged whatever the guess says, since the guess may be wrong.
const ANYWAY: u32 = 40;

/// Students without room, one after the other, from which on an edition counts as full: later ones keep their first draw.
const FULL: u32 = 2;

/// A draw that is apart from all that are taken.
struct Found {
    variant: Variant,
    /// A key for each of the ticket's sheets.
    keys: Vec<Key>,
    /// How many draws before it were too near.
    redrawn: u32,
}

/// What a draw is good for.
enum Judged {
    /// It is apart from all that are taken.
    Apart(Variant, Vec<Key>),
    /// It meets the conditions, but copied answers would earn too much, or a task has no answer.
    Near,
    /// It does not meet the conditions.
    TurnedDown,
}

/// Gives out draws, one ticket after the other.
pub(super) struct Placer<'a> {
    experiment: &'a Experiment,
    seed: &'a str,
    limit: CopyLimit,
    /// Sheets that are given out, by edition.
    taken: Vec<(Edition, Expected)>,
    /// For each edition: tickets in a row that found no room.
    failed: [u32; Edition::ALL.len()],
    /// What to expect of draws, once somebody needs more than the first.
    guess: OnceLock<Option<Guess>>,
    packer: Packer,
}

impl<'a> Placer<'a> {
    /// A placer that has given out nothing.
    pub(super) fn new(experiment: &'a Experiment, seed: &'a str, limit: CopyLimit) -> Self {
        Self {
            experiment,
            seed,
            limit,
            taken: Vec::new(),
            failed: [0; Edition::ALL.len()],
            guess: OnceLock::new(),
            packer: Packer::default(),
        }
    }

    /// Gives a ticket the first of its draws that is apart, or else the first.
    ///
    /// # Errors
    /// A [`SetError`] where the first draw can't be keyed.
    pub(super) fn place(&mut self, ticket: &Ticket, first: Variant) -> Result<Placed, SetError> {
        let found = self.search(ticket, &first);
        for (edition, _) in &ticket.sheets {
            let failed = &mut self.failed[*edition as usize];
            *failed = if found.is_some() { 0 } else { *failed + 1 };
        }
        match found {
            Some(Found { variant, keys, redrawn }) => {
                self.take(ticket, &keys);
                Ok(Placed { packed: self.packed(&variant, &keys), redrawn, apart: true })
            }
            None => self.first(ticket, first),
        }
    }

    /// Whether no room is looked for any more in one of the ticket's editions.
    pub(super) fn is_full(&self, ticket: &Ticket) -> bool {
        ticket.sheets.iter().any(|(edition, _)| self.failed[*edition as usize] >= FULL)
    }

    /// The first draw, near to others or not.
    ///
    /// # Errors
    /// A [`SetError`] where it can't be keyed.
    pub(super) fn first(&self, ticket: &Ticket, first: Variant) -> Result<Placed, SetError> {
        Ok(Placed { packed: self.packed(&first, &self.keys(ticket, &first)?), redrawn: 0, apart: false })
    }

    /// What the ticket holds already.
    ///
    /// # Errors
    /// A [`SetError`] where it can't be keyed.
    pub(super) fn keep(&mut self, ticket: &Ticket, held: &Held) -> Result<Placed, SetError> {
        let keys = self.keys(ticket, &held.variant)?;
        self.take(ticket, &keys);
        Ok(Placed { packed: self.packed(&held.variant, &keys), redrawn: held.redrawn, apart: held.apart })
    }

    fn take(&mut self, ticket: &Ticket, keys: &[Key]) {
        let sheets = ticket.sheets.iter().zip(keys);
        let expected = sheets.map(|((edition, _), key)| (*edition, Expected::of(self.experiment, *edition, key)));
        self.taken.extend(expected);
    }

    /// The first draw from a good one on that is worth judging and apart from all that are taken.
    fn search(&self, ticket: &Ticket, first: &Variant) -> Option<Found> {
        let later = (first.attempt + 1..=first.attempt + MOST_LOOKED_AT)
            .filter(|&attempt| attempt % ANYWAY == 0 || self.promises(ticket, attempt))
            .take(MOST_JUDGED)
            .map(|attempt| self.draw(ticket, attempt));
        let mut redrawn = 0;
        for judged in std::iter::once_with(|| self.judge(ticket, first.clone())).chain(later) {
            match judged {
                Judged::Apart(variant, keys) => return Some(Found { variant, keys, redrawn }),
                Judged::Near => redrawn += 1,
                Judged::TurnedDown => {}
            }
        }
        None
    }

    /// Whether a draw is likely to meet the conditions and to earn little elsewhere.
    fn promises(&self, ticket: &Ticket, attempt: u32) -> bool {
        let Some(guess) = self.guess.get_or_init(|| Guess::learn(self.experiment, self.seed)) else { return true };
        let seed = Seed { set: self.seed, student: &ticket.stream, attempt };
        let place = guess::place(self.experiment, &seed);
        let mut editions = ticket.sheets.iter().map(|(edition, _)| *edition);
        guess.meets(&place)
            && editions.all(|edition| self.worth_little(edition, &guess.offer(self.experiment, edition, &place)))
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
            Judged::Apart(variant, keys)
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

    /// Readings with each of their keys.
    fn packed(&self, variant: &Variant, keys: &[Key]) -> Vec<Packed> {
        keys.iter().map(|key| self.packer.pack(variant, key)).collect()
    }
}

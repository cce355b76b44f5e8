//! The members of a set: each student with data and key. In: a plan. Out: members in printing order.
//! What neighbours have may decide which of a member's draws is taken, and nothing else.

use std::{collections::HashSet, sync::Arc};

use indexmap::IndexMap;

use super::{
    Own, Packed, Readings, SetPlan,
    placing::{self, Placed, Ticket},
};
use crate::{
    class::{Code, Edition, Seat, Student},
    key::KeyError,
    language::Language,
    variant::{DrawError, Variant},
};

/// What a student of a printed set has.
#[derive(Debug, Clone)]
pub struct Held {
    /// The code on the sheet.
    pub code: Code,
    /// The version, from 1.
    pub version: usize,
    /// The readings.
    pub variant: Arc<Variant>,
    /// How many draws before them were too near to another's sheet.
    pub redrawn: u32,
    /// Whether they were apart from all that came before.
    pub apart: bool,
}

/// A student who has readings and a key.
pub struct Member<'a> {
    /// The student.
    pub student: &'a Student,
    /// The version, from 1; where every student has readings of their own, the place in the class file.
    pub version: usize,
    /// The edition.
    pub edition: Edition,
    /// The language of the sheet.
    pub language: &'static Language,
    /// The code of the sheet.
    pub code: String,
    /// Readings and key; those who share a version share them.
    pub packed: Packed,
    /// How many draws before this one were too near to another's sheet.
    pub redrawn: u32,
    /// Whether it is apart from all sheets of its edition that came before.
    pub apart: bool,
}

impl Member<'_> {
    /// Readings and key. They are unpacked each time.
    pub fn own(&self) -> Own {
        self.packed.open()
    }
}

/// The members of a set, and what could not be had.
pub struct Draft<'a> {
    /// In printing order.
    pub members: Vec<Member<'a>>,
    /// Neighbours who share a version.
    pub clashes: Vec<(Seat, Seat)>,
    /// Editions with more sheets than could be drawn apart.
    pub crowds: Vec<Crowd>,
}

/// More sheets of an edition than could be kept apart.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Crowd {
    /// The edition.
    pub edition: Edition,
    /// How many different sheets it has.
    pub sheets: usize,
    /// How many of them are apart from each other.
    pub apart: usize,
}

/// Why a set could not be made.
#[derive(Debug, thiserror::Error)]
pub enum SetError {
    /// A student could not be drawn.
    #[error(transparent)]
    Draw(#[from] DrawError),
    /// A key could not be computed.
    #[error(transparent)]
    Key(#[from] KeyError),
}

impl<'a> SetPlan<'a> {
    /// Draws and keys the whole class; keeps the students whom `wanted` picks by student and code.
    ///
    /// # Errors
    /// A [`SetError`] for every student, or version, that could not be drawn or keyed.
    pub fn draft(&self, wanted: impl Fn(&Student, &str) -> bool) -> Result<Draft<'a>, Vec<SetError>> {
        if self.readings != Readings::Drawn {
            return Ok(self.undrawn(wanted));
        }
        let (codes, (versions, clashes)) = (self.codes(), self.dealt());
        let tickets = self.tickets(&versions);
        let listed: Vec<Ticket> = tickets.values().cloned().collect();
        let printed: Vec<usize> = self
            .printed()
            .into_iter()
            .filter(|&place| wanted(&self.roster.students[place], &codes[place].to_string()))
            .collect();
        let streams: HashSet<String> =
            printed.iter().map(|&place| self.stream(&self.roster.students[place], versions[place])).collect();
        let needed = |ticket: &Ticket| streams.contains(&ticket.stream);
        let placed = placing::place(self.experiment, self.seed, self.limit, &listed, needed)?;
        let crowds = Edition::ALL.into_iter().filter_map(|edition| crowd(edition, &listed, &placed)).collect();
        let member = |place: usize| {
            let student = &self.roster.students[place];
            let code = codes[place].to_string();
            let (ticket, _, own) = tickets.get_full(&self.stream(student, versions[place]))?;
            let Placed { packed, redrawn, apart } = placed[ticket].as_ref()?;
            let sheet = own.sheets.iter().position(|sheet| *sheet == (self.edition_of(student), student.large))?;
            Some(Member {
                student,
                version: versions[place],
                edition: self.edition_of(student),
                language: self.language_of(student),
                code,
                packed: packed[sheet].clone(),
                redrawn: *redrawn,
                apart: *apart,
            })
        };
        Ok(Draft { members: printed.into_iter().filter_map(member).collect(), clashes, crowds })
    }

    /// Who gets readings, by the name of their random streams.
    fn tickets(&self, versions: &[usize]) -> IndexMap<String, Ticket> {
        let mut tickets: IndexMap<String, Ticket> = IndexMap::new();
        for (student, &version) in self.roster.students.iter().zip(versions) {
            let stream = self.stream(student, version);
            let ticket = tickets.entry(stream).or_insert_with_key(|stream| Ticket::new(stream));
            let sheet = (self.edition_of(student), student.large);
            if !ticket.sheets.contains(&sheet) {
                ticket.sheets.push(sheet);
            }
            if let Some(held) = self.held.get(&student.id) {
                ticket.held = Some(held.clone());
            }
        }
        tickets
    }

    /// What a student's random streams are named after.
    pub(crate) fn stream(&self, student: &Student, version: usize) -> String {
        self.versions.map_or_else(|| student.id.clone(), |_| format!("version {version}"))
    }
}

/// The sheets of an edition, if not all of them could be kept apart.
fn crowd(edition: Edition, tickets: &[Ticket], placed: &[Option<Placed>]) -> Option<Crowd> {
    let holds = |ticket: &Ticket| ticket.sheets.iter().any(|(own, _)| *own == edition);
    let of = tickets.iter().zip(placed).filter(|(ticket, _)| holds(ticket));
    let (sheets, apart) = of.fold((0, 0), |(sheets, apart), (_, one)| {
        (sheets + 1, apart + usize::from(one.as_ref().is_some_and(|one| one.apart)))
    });
    (apart < sheets).then_some(Crowd { edition, sheets, apart })
}

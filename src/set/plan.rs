//! What a set is made from. In: an experiment, a class, a seed, the teacher's wishes. Out: who gets which version and which
//! sheet, and what is written on it. It must draw nothing.

use std::collections::BTreeMap;

use super::{Held, Member, Own, Part, Readings};
use crate::{
    class::{self, Code, Edition, Roster, Seat, Student},
    compose::{Facts, Labels},
    copying::CopyLimit,
    experiment::Experiment,
    language::{Day, Language},
    press::Fonts,
    report::{Problem, Problems},
};

/// What a set is made from.
#[derive(Clone, Copy)]
pub struct SetPlan<'a> {
    /// The experiment.
    pub experiment: &'a Experiment,
    /// The class.
    pub roster: &'a Roster,
    /// The seed.
    pub seed: &'a str,
    /// The edition of students whose row names none.
    pub edition: Edition,
    /// The language of students whose row names none, and of keys.
    pub language: &'static Language,
    /// Whether names are printed.
    pub names: bool,
    /// How many versions there are; without, every student has readings of their own.
    pub versions: Option<usize>,
    /// What copying may pay at most.
    pub limit: CopyLimit,
    /// The day that sheets show.
    pub day: Option<Day>,
    /// The fonts of its pages.
    pub fonts: &'a Fonts,
    /// What students have already, by their ids.
    pub held: &'a BTreeMap<String, Held>,
    /// Where readings come from.
    pub readings: Readings<'a>,
    /// Which part of the set is made.
    pub part: Option<Part>,
    /// The text of the bench file that the experiment's bench was set by.
    pub bench: Option<&'a str>,
}

/// Nobody has anything yet.
static NOTHING: BTreeMap<String, Held> = BTreeMap::new();

impl<'a> SetPlan<'a> {
    /// A new set with names, readings of their own for each student, and the usual limit; core where no edition is named.
    pub fn new(experiment: &'a Experiment, roster: &'a Roster, seed: &'a str, language: &'static Language) -> Self {
        Self {
            experiment,
            roster,
            seed,
            edition: Edition::Core,
            language,
            names: true,
            versions: None,
            limit: CopyLimit::default(),
            day: None,
            fonts: Fonts::shipped(),
            held: &NOTHING,
            readings: Readings::Drawn,
            part: None,
            bench: None,
        }
    }

    /// The places of the students who are printed, in printing order.
    pub(super) fn printed(&self) -> Vec<usize> {
        let order = self.roster.order();
        let range = self.part.map_or(0..order.len(), |part| part.range(order.len()));
        order[range].to_vec()
    }

    /// The edition of a student's sheet.
    pub fn edition_of(&self, student: &Student) -> Edition {
        student.edition.unwrap_or(self.edition)
    }

    /// The language of a student's sheet.
    pub fn language_of(&self, student: &Student) -> &'static Language {
        student.lang.as_deref().and_then(Language::find).unwrap_or(self.language)
    }

    /// The codes of the class, in the class file's order.
    pub(super) fn codes(&self) -> Vec<Code> {
        let taken: Vec<Code> = self.held.values().map(|held| held.code).collect();
        let students = self.roster.students.iter();
        let new: Vec<&str> =
            students.map(|student| student.id.as_str()).filter(|id| !self.held.contains_key(*id)).collect();
        let mut fresh = Code::for_set(self.seed, &self.experiment.definition.id, &new, &taken).into_iter();
        let students = self.roster.students.iter();
        students
            .filter_map(|student| self.held.get(&student.id).map(|held| held.code).or_else(|| fresh.next()))
            .collect()
    }

    /// A version for each student in the class file's order, from 1, and neighbours who share one.
    pub(super) fn dealt(&self) -> (Vec<usize>, Vec<(Seat, Seat)>) {
        let students = &self.roster.students;
        let held = students.iter().map(|student| self.held.get(&student.id).map(|held| held.version));
        match self.versions {
            Some(count) => {
                let seats: Vec<Option<Seat>> = students.iter().map(|student| student.seat).collect();
                let held: Vec<Option<usize>> = held.map(|version| Some(version? - 1)).collect();
                let deal = class::deal(&seats, &held, count);
                let clashes = deal.clashes.iter().filter_map(|&(one, other)| Some((seats[one]?, seats[other]?)));
                (deal.versions.iter().map(|version| version + 1).collect(), clashes.collect())
            }
            None => {
                let mut next = self.held.values().map(|held| held.version).max().unwrap_or(0);
                let mut fresh = || {
                    next += 1;
                    next
                };
                (held.map(|version| version.unwrap_or_else(&mut fresh)).collect(), Vec::new())
            }
        }
    }

    /// The name to print for a member: the name, or the id or code where no shipped font has its signs, or nothing.
    pub fn printed_name<'m>(&self, member: &'m Member<'_>) -> Option<&'m str> {
        let student = member.student;
        let shown = self.printable(&student.name).or_else(|| self.printable(&student.id)).unwrap_or(&member.code);
        self.names.then_some(shown)
    }

    /// A text, if the fonts have all its signs.
    pub(super) fn printable<'t>(&self, text: &'t str) -> Option<&'t str> {
        self.fonts.covers(text).is_none().then_some(text)
    }

    /// The class to print; nothing where no shipped font has its signs.
    pub fn printed_class(&self) -> String {
        self.printable(&self.roster.name).unwrap_or_default().to_owned()
    }

    /// A notice for each name that can't be printed as it is.
    pub fn unprintable(&self, members: &[Member<'_>]) -> Problems {
        let notice = |member: &Member<'_>| {
            let sign = self.fonts.covers(&member.student.name)?;
            let shown = self.printed_name(member)?;
            let problem = Problem::notice(format!(
                "no font has the sign `{sign}` (U+{:04X}) of the name `{}`",
                u32::from(sign),
                member.student.name
            ));
            Some(problem.hint(format!("the sheet shows `{shown}` instead")))
        };
        members.iter().filter_map(notice).collect()
    }

    /// What a member has as facts in a language.
    pub fn facts<'m>(&'m self, own: &'m Own, language: &'m Language) -> Facts<'m> {
        Facts { experiment: self.experiment, variant: &own.variant, key: &own.key, language }
    }

    /// What tells a member's sheet from others.
    pub fn labels<'m>(&'m self, member: &'m Member<'_>) -> Labels<'m> {
        Labels {
            student: self.printed_name(member),
            class: self.printable(&self.roster.name).unwrap_or_default(),
            code: Some(&member.code),
            day: self.day,
            version: self.versions.map(|_| member.version),
            edition: member.edition,
            large: member.student.large,
        }
    }
}

//! The members of a set: each student with data and key. In: an experiment, a class, a seed. Out: members in printing order.
//! No member may depend on another.

use super::printing::printable;
use crate::{
    class::{Code, Edition, Roster, Student},
    compose::{Facts, Labels},
    experiment::Experiment,
    graph::GraphPaper,
    key::{Key, KeyError},
    language::Language,
    press::covers,
    report::{Problem, Problems},
    variant::{self, DrawError, Variant},
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
}

/// A student with data and key.
pub struct Member<'a> {
    /// The student.
    pub student: &'a Student,
    /// The place in the class file, from 1.
    pub version: usize,
    /// The edition.
    pub edition: Edition,
    /// The language of the sheet.
    pub language: &'static Language,
    /// The code of the sheet.
    pub code: String,
    /// The data.
    pub variant: Variant,
    /// The key.
    pub key: Key,
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
    /// Draws and keys the students whose id `wanted` picks, in printing order.
    ///
    /// # Errors
    /// A [`SetError`] for every student that could not be drawn or keyed.
    pub fn members(&self, wanted: impl Fn(&Student, &str) -> bool) -> Result<Vec<Member<'a>>, Vec<SetError>> {
        let ids: Vec<&str> = self.roster.students.iter().map(|student| student.id.as_str()).collect();
        let codes = Code::for_set(self.seed, &self.experiment.definition.id, &ids);
        let place = |student: &Student| ids.iter().position(|id| *id == student.id).unwrap_or(0);
        let mut members = Vec::new();
        let mut errors = Vec::new();
        for student in self.roster.in_order() {
            let place = place(student);
            let code = codes[place].to_string();
            if !wanted(student, &code) {
                continue;
            }
            match self.member(student, place + 1, code) {
                Ok(member) => members.push(member),
                Err(error) => errors.push(error),
            }
        }
        if errors.is_empty() { Ok(members) } else { Err(errors) }
    }

    fn member(&self, student: &'a Student, version: usize, code: String) -> Result<Member<'a>, SetError> {
        let variant = variant::draw(self.experiment, self.seed, &student.id)?;
        let edition = student.edition.unwrap_or(self.edition);
        let key = Key::build_for(edition, GraphPaper::of(student.large), self.experiment, &variant, &student.id)?;
        Ok(Member {
            student,
            version,
            edition,
            language: student.lang.as_deref().and_then(Language::find).unwrap_or(self.language),
            code,
            variant,
            key,
        })
    }

    /// The name to print for a member: the name, or the id or code where no shipped font has its signs, or nothing.
    pub fn printed_name<'m>(&self, member: &'m Member<'_>) -> Option<&'m str> {
        let student = member.student;
        let shown = printable(&student.name).or_else(|| printable(&student.id)).unwrap_or(&member.code);
        self.names.then_some(shown)
    }

    /// The class to print; nothing where no shipped font has its signs.
    pub fn printed_class(&self) -> String {
        printable(&self.roster.name).unwrap_or_default().to_owned()
    }

    /// A notice for each name that can't be printed as it is.
    pub fn unprintable(&self, members: &[Member<'_>]) -> Problems {
        let notice = |member: &Member<'_>| {
            let sign = covers(&member.student.name)?;
            let shown = self.printed_name(member)?;
            let problem = Problem::notice(format!(
                "no shipped font has the sign `{sign}` (U+{:04X}) of the name `{}`",
                u32::from(sign),
                member.student.name
            ));
            Some(problem.hint(format!("the sheet shows `{shown}` instead")))
        };
        members.iter().filter_map(notice).collect()
    }

    /// A member's facts in a language.
    pub fn facts<'m>(&'m self, member: &'m Member<'_>, language: &'m Language) -> Facts<'m> {
        Facts { experiment: self.experiment, variant: &member.variant, key: &member.key, language }
    }

    /// What tells a member's sheet from others.
    pub fn labels<'m>(&'m self, member: &'m Member<'_>) -> Labels<'m> {
        Labels {
            student: self.printed_name(member),
            class: printable(&self.roster.name).unwrap_or_default(),
            code: &member.code,
            edition: member.edition,
            large: member.student.large,
        }
    }
}

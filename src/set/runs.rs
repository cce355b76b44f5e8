//! Where the readings of a set come from. In: a plan. Out: members with data and key that were not drawn. It must draw nothing.

use std::collections::BTreeMap;

use super::{Draft, Member, Packer, SetPlan};
use crate::{
    class::Student,
    graph::GraphPaper,
    key::Key,
    measured,
    readings::{Column, Table},
    variant::Variant,
};

/// Where readings come from.
#[derive(Debug, Clone, Copy, Default, PartialEq)]
pub enum Readings<'a> {
    /// They are drawn, each student's or version's own.
    #[default]
    Drawn,
    /// They are still to be taken.
    Blank,
    /// They were taken: by the ids of the students.
    Measured(&'a BTreeMap<String, Variant>),
}

impl Readings<'_> {
    /// The word that stands in records.
    pub fn word(self) -> &'static str {
        match self {
            Self::Drawn => "drawn",
            Self::Blank => "blank",
            Self::Measured(_) => "measured",
        }
    }
}

impl<'a> SetPlan<'a> {
    /// The members of a set that is not drawn; students without readings are left out.
    pub(super) fn undrawn(&self, wanted: impl Fn(&Student, &str) -> bool) -> Draft<'a> {
        let codes = self.codes();
        let blank = blank(self);
        let packer = Packer::default();
        let members = self.printed().into_iter().filter_map(|place| {
            let student = &self.roster.students[place];
            let code = codes[place].to_string();
            let variant = match self.readings {
                Readings::Measured(runs) => runs.get(&student.id)?,
                Readings::Drawn | Readings::Blank => &blank,
            };
            if !wanted(student, &code) {
                return None;
            }
            let edition = self.edition_of(student);
            let paper = GraphPaper::of(student.large);
            let key = Key::build_for(edition, paper, self.experiment, variant, &student.id).ok()?;
            Some(Member {
                student,
                version: if self.readings == Readings::Blank { 1 } else { place + 1 },
                edition,
                language: self.language_of(student),
                code,
                packed: packer.pack(variant, &key),
                redrawn: 0,
                apart: true,
            })
        });
        Draft { members: members.collect(), clashes: Vec::new(), crowds: Vec::new() }
    }
}

/// A sheet before anything is read.
fn blank(plan: &SetPlan<'_>) -> Variant {
    let experiment = plan.experiment;
    let ids = std::iter::once(&experiment.schedule.id).chain(experiment.columns.iter().map(|column| &column.id));
    let columns = ids.map(|id| Column { id: id.clone(), texts: Vec::new(), values: Vec::new() });
    Variant {
        drawn: Vec::new(),
        told: measured::told(experiment, &[]),
        table: Table { columns: columns.collect() },
        measured: true,
        attempt: 0,
    }
}

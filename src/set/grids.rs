//! The marking grids of a set. In: its members. Out: leaves for the press. They must show what the keys hold, and no more.

use std::ops::Range;

use super::{Member, Own, Print, placing::natural};
use crate::{
    compose,
    press::{Leaf, PressError},
};

/// Rows of a grid that are set as one table.
const GRID_ROWS: usize = 50;

/// An order of students.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub enum Order {
    /// As in the set.
    #[default]
    Set,
    /// By seat, students without one last.
    Seat,
    /// By name, numbers in it as numbers.
    Name,
    /// By code.
    Code,
}

impl Print<'_> {
    /// The grid of some students, in parts with page numbers of their own, since Typst holds a whole table in memory.
    pub(super) fn grid(&self, range: Range<usize>) -> Result<Vec<Leaf>, PressError> {
        let mut members: Vec<&Member<'_>> = self.members.iter().collect();
        match self.printing.order {
            Order::Set => {}
            Order::Seat => members.sort_by_key(|member| (member.student.seat.is_none(), member.student.seat)),
            Order::Code => members.sort_by(|one, other| one.code.cmp(&other.code)),
            Order::Name => members.sort_by(|one, other| natural(&one.student.name, &other.student.name)),
        }
        let count = members.len().div_ceil(GRID_ROWS);
        let before = range.start / GRID_ROWS;
        let parts = members[range].chunks(GRID_ROWS);
        let class = self.plan.printed_class();
        let leaf = |(part, members): (usize, &[&Member<'_>])| {
            let owns: Vec<Own> = members.iter().map(|member| member.own()).collect();
            let facts = owns.iter().map(|own| self.plan.facts(own, self.plan.language));
            let rows: Vec<_> = facts.zip(members.iter().map(|member| self.plan.labels(member))).collect();
            let class = if count > 1 { format!("{class} ({}/{count})", before + part + 1) } else { class.clone() };
            let grid = compose::grid(self.plan.experiment, &class, self.plan.language, &rows);
            self.documents.grid(&grid, self.printing.paper)
        };
        if count == 0 { Ok(vec![leaf((0, &[]))?]) } else { parts.enumerate().map(leaf).collect() }
    }

    /// The grid of the versions, with how many hold each.
    pub(super) fn version_grid(&self) -> Result<Leaf, PressError> {
        let kind = |member: &Member<'_>| (member.version, member.edition, member.student.large);
        let members: Vec<(&Member<'_>, Own)> =
            self.shared_keys().into_iter().map(|place| (&self.members[place], self.members[place].own())).collect();
        let rows: Vec<_> = members
            .iter()
            .map(|(member, own)| {
                let holders = self.members.iter().filter(|other| kind(other) == kind(member)).count();
                (self.plan.facts(own, self.plan.language), self.plan.labels(member), holders)
            })
            .collect();
        let grid = compose::version_grid(self.plan.experiment, &self.plan.printed_class(), self.plan.language, &rows);
        self.documents.grid(&grid, self.printing.paper)
    }
}

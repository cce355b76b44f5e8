//! The sheet on top of a printed stack. In: the pages of each member's sheet. Out: its source. It must count only what was printed.

use std::{collections::BTreeSet, ops::Range};

use super::{
    Print,
    volumes::{Count, volumes},
};
use crate::{
    compose::{self, Stack, Stacked},
    press::{PressError, Sides},
};

impl Print<'_> {
    /// The source of a cover.
    pub(super) fn cover(&self, range: &Range<usize>, pages: &[usize]) -> Result<String, PressError> {
        let all: Vec<usize> = (0..self.members.len()).collect();
        let (mut sheets, mut total, mut lengths_seen) = (Vec::new(), 0, BTreeSet::new());
        let volumes: Vec<(String, Vec<usize>)> =
            volumes("worksheets", &all, Count::of_students(self.plan, all.len())).collect();
        for (file, places) in &volumes {
            let counts: Vec<usize> = places.iter().map(|&place| pages[place]).collect();
            let lengths = self.printing.binding.lengths(&counts);
            let mut first_page = 1;
            if !places.iter().all(|place| range.contains(place)) {
                continue;
            }
            for ((&place, &pages), length) in places.iter().zip(&counts).zip(&lengths) {
                let member = &self.members[place];
                sheets.push(Stacked {
                    labels: self.plan.labels(member),
                    language: member.language,
                    seat: member.student.seat,
                    file,
                    first_page,
                    pages,
                });
                first_page += length;
            }
            total += lengths.iter().sum::<usize>();
            lengths_seen.extend(lengths);
        }
        let both_sides = self.printing.binding.sides == Sides::Both;
        let same = lengths_seen.first().filter(|_| lengths_seen.len() == 1);
        let staple = same.map(|&length| if both_sides { length.div_ceil(2) } else { length });
        let (title, class) = (self.title(), self.plan.printed_class());
        let stack = Stack { title: &title, class: &class, sheets: &sheets, pages: total, both_sides, staple };
        let cover = compose::cover(&stack, self.plan.language);
        self.documents.cover(&cover, self.printing.paper)
    }
}

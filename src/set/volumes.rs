//! Volumes: how many students a file holds, and what the files are called. In: places of students. Out: places with their files'
//! names. It must print nothing.

use std::ops::Range;

use super::SetPlan;

/// Students bound in a volume at most.
pub(super) const VOLUME: usize = 40;

/// Students on a grid and on a cover at most: those of ten volumes, which is what a table in memory may hold.
const STACK: usize = 10 * VOLUME;

/// How volumes are counted: those of a part go on behind those of the parts before.
#[derive(Debug, Clone, Copy)]
pub(super) struct Count {
    /// Volumes before the first.
    before: usize,
    /// Whether there is only one, whose name needs no number.
    single: bool,
}

impl Count {
    /// Volumes of their own.
    pub(super) fn of(places: usize) -> Self {
        Self { before: 0, single: places <= VOLUME }
    }

    /// Volumes of a plan's students, of which `printed` are printed.
    pub(super) fn of_students(plan: &SetPlan<'_>, printed: usize) -> Self {
        let all = plan.roster.students.len();
        match plan.part.map(|part| part.range(all)) {
            Some(range) if range.start % VOLUME == 0 && range.len() == printed => {
                Self { before: range.start / VOLUME, single: all <= VOLUME }
            }
            _ => Self::of(printed),
        }
    }
}

/// Stacks of students, each with a grid and a cover of its own, with their files' names.
pub(super) fn stacks(stem: &str, students: usize) -> Vec<(String, Range<usize>)> {
    if students <= STACK {
        return vec![(format!("{stem}.pdf"), 0..students)];
    }
    let stack =
        |index: usize| (format!("{stem}-{:02}.pdf", index + 1), index * STACK..((index + 1) * STACK).min(students));
    (0..students.div_ceil(STACK)).map(stack).collect()
}

/// Places bound in volumes, with their files' names.
pub(super) fn volumes<'a>(
    stem: &'a str,
    places: &'a [usize],
    count: Count,
) -> impl Iterator<Item = (String, Vec<usize>)> + 'a {
    let Count { before, single } = count;
    let name = move |volume: usize| {
        if single { format!("{stem}.pdf") } else { format!("{stem}-{:02}.pdf", before + volume + 1) }
    };
    // A set without members still has its files.
    let empty = places.is_empty().then(|| (name(0), Vec::new()));
    places.chunks(VOLUME).enumerate().map(move |(volume, places)| (name(volume), places.to_vec())).chain(empty)
}

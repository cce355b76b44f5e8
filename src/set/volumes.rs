//! Volumes: how many students a file holds, and what the files are called. In: places of students. Out: places with their files'
//! names. It must print nothing.

use std::ops::Range;

use super::SetPlan;

/// Students bound in a volume at most.
pub(super) const VOLUME: usize = 40;

/// Students on a grid and on a cover at most: those of five volumes, which is what a table in memory may hold.
const STACK: usize = 5 * VOLUME;

/// How volumes are counted: those of a part go on behind those of the parts before.
#[derive(Debug, Clone, Copy)]
pub(super) struct Count {
    /// Volumes before the first.
    before: usize,
    /// All of them; only one needs no number.
    all: usize,
}

impl Count {
    /// Volumes of their own.
    pub(super) fn of(places: usize) -> Self {
        Self { before: 0, all: places.div_ceil(VOLUME) }
    }

    /// Volumes of a plan's students, of which `printed` are printed.
    pub(super) fn of_students(plan: &SetPlan<'_>, printed: usize) -> Self {
        let all = plan.roster.students.len();
        match plan.part.map(|part| part.range(all)) {
            Some(range) if range.start % VOLUME == 0 && range.len() == printed => {
                Self { before: range.start / VOLUME, all: all.div_ceil(VOLUME) }
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
    let count = students.div_ceil(STACK);
    let stack = |index: usize| (numbered(stem, index, count), index * STACK..((index + 1) * STACK).min(students));
    (0..count).map(stack).collect()
}

/// A file's name with the number of an index, with so many digits that names sort as numbers do.
fn numbered(stem: &str, index: usize, count: usize) -> String {
    let width = count.to_string().len().max(2);
    format!("{stem}-{:0width$}.pdf", index + 1)
}

/// Places bound in volumes, with their files' names.
pub(super) fn volumes<'a>(
    stem: &'a str,
    places: &'a [usize],
    count: Count,
) -> impl Iterator<Item = (String, Vec<usize>)> + 'a {
    let Count { before, all } = count;
    let name = move |volume: usize| {
        if all <= 1 { format!("{stem}.pdf") } else { numbered(stem, before + volume, all) }
    };
    // A set without members still has its files.
    let empty = places.is_empty().then(|| (name(0), Vec::new()));
    places.chunks(VOLUME).enumerate().map(move |(volume, places)| (name(volume), places.to_vec())).chain(empty)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn names_sort_as_their_numbers_do() {
        let names = |stem: &str, students: usize| -> Vec<String> {
            let places: Vec<usize> = (0..students).collect();
            volumes(stem, &places, Count::of(students)).map(|(name, _)| name).collect()
        };
        assert_eq!(names("keys", 40), ["keys.pdf"]);
        assert_eq!(names("keys", 41), ["keys-01.pdf", "keys-02.pdf"]);
        let many = names("keys", 101 * VOLUME);
        assert_eq!((many[0].as_str(), many[100].as_str()), ("keys-001.pdf", "keys-101.pdf"));
        assert!(many.is_sorted());
    }

    #[test]
    fn stacks_hold_five_volumes() {
        assert_eq!(stacks("grid", 200), [("grid.pdf".to_owned(), 0..200)]);
        let [first, last] = [0, 1].map(|index| stacks("grid", 201)[index].clone());
        assert_eq!((first, last), (("grid-01.pdf".to_owned(), 0..200), ("grid-02.pdf".to_owned(), 200..201)));
    }
}

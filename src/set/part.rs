//! A part of a set, for making it on many machines. In: `2/5`, or the environment of a job array. Out: which students, in printing
//! order. Parts put side by side must be the whole.

use std::{ops::Range, str::FromStr};

use super::volumes::VOLUME;

/// Variables in which job arrays say which job this is: index, first index, number of jobs (Slurm), or last index (Grid Engine
/// and its kin, where the first is 1).
const SLURM: [&str; 3] = ["SLURM_ARRAY_TASK_ID", "SLURM_ARRAY_TASK_MIN", "SLURM_ARRAY_TASK_COUNT"];
const GRID_ENGINE: [&str; 3] = ["SGE_TASK_ID", "SGE_TASK_FIRST", "SGE_TASK_LAST"];

/// One of several parts.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Part {
    /// Which, from 1.
    pub index: usize,
    /// Of how many.
    pub of: usize,
}

impl Part {
    /// The places of its students among `count` in printing order. Parts end where volumes end, unless there are more parts
    /// than volumes.
    pub fn range(self, count: usize) -> Range<usize> {
        let volumes = count.div_ceil(VOLUME);
        let end = |part: usize| {
            if self.of <= volumes { (part * volumes / self.of * VOLUME).min(count) } else { part * count / self.of }
        };
        end(self.index - 1)..end(self.index)
    }

    /// The part that the environment of a job array names.
    fn of_environment(variable: impl Fn(&str) -> Option<usize>) -> Option<Self> {
        let [id, first, count] = SLURM.map(&variable);
        if let (Some(id), Some(count)) = (id, count) {
            return Some(Self { index: (id + 1).checked_sub(first.unwrap_or(1))?, of: count });
        }
        let [id, first, last] = GRID_ENGINE.map(&variable);
        let first = first.unwrap_or(1);
        Some(Self { index: (id? + 1).checked_sub(first)?, of: (last? + 1).checked_sub(first)? })
    }

    fn sound(self) -> Option<Self> {
        (1..=self.of).contains(&self.index).then_some(self)
    }
}

impl FromStr for Part {
    type Err = String;

    fn from_str(text: &str) -> Result<Self, String> {
        if text.trim() == "array" {
            let variable = |name: &str| std::env::var(name).ok()?.trim().parse().ok();
            return Self::of_environment(variable).and_then(Self::sound).ok_or_else(|| {
                "`array` needs the environment of a job array, such as SLURM_ARRAY_TASK_ID and SLURM_ARRAY_TASK_COUNT".to_owned()
            });
        }
        let parts =
            text.split_once('/').and_then(|(index, of)| Some((index.trim().parse().ok()?, of.trim().parse().ok()?)));
        let part = parts.and_then(|(index, of)| Self { index, of }.sound());
        part.ok_or_else(|| "write which of how many parts, such as `2/5`, or `array` in a job array".to_owned())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn parts_are_the_whole_and_end_with_volumes() {
        for (count, of) in [(24, 2), (1, 1), (41, 2), (3000, 7), (95, 30), (80, 2), (5, 9)] {
            let ranges: Vec<_> = (1..=of).map(|index| Part { index, of }.range(count)).collect();
            assert_eq!((ranges[0].start, ranges[of - 1].end), (0, count));
            assert!(ranges.windows(2).all(|pair| pair[0].end == pair[1].start));
            if of <= count.div_ceil(VOLUME) {
                assert!(ranges.iter().all(|range| range.start % VOLUME == 0 && !range.is_empty()), "{count} in {of}");
            }
        }
    }

    #[test]
    fn job_arrays_count_from_where_they_like() {
        let slurm =
            |values: [usize; 3]| move |name: &str| SLURM.iter().position(|known| *known == name).map(|at| values[at]);
        assert_eq!(Part::of_environment(slurm([3, 1, 8])), Some(Part { index: 3, of: 8 }));
        assert_eq!(Part::of_environment(slurm([0, 0, 8])), Some(Part { index: 1, of: 8 }));
        let grid =
            |name: &str| [("SGE_TASK_ID", 4), ("SGE_TASK_LAST", 5)].iter().find(|one| one.0 == name).map(|one| one.1);
        assert_eq!(Part::of_environment(grid), Some(Part { index: 4, of: 5 }));
        assert_eq!(Part::of_environment(|_| None), None);
        for wrong in ["0/3", "4/3", "1", "1/0", "a/b", ""] {
            assert!(wrong.parse::<Part>().is_err(), "{wrong}");
        }
        assert_eq!(" 2/5".parse(), Ok(Part { index: 2, of: 5 }));
    }
}

//! A part of a set, for making it on many machines. In: `2/5`, or the environment of a job array. Out: which students, in printing
//! order. Parts put side by side must be the whole.

use std::{ops::Range, str::FromStr};

use super::volumes::VOLUME;

/// Variables in which job arrays say which job this is: index, first and last index, and the number of jobs (Slurm) or the step
/// between them (Grid Engine and its kin).
const SLURM: [&str; 4] =
    ["SLURM_ARRAY_TASK_ID", "SLURM_ARRAY_TASK_MIN", "SLURM_ARRAY_TASK_MAX", "SLURM_ARRAY_TASK_COUNT"];
const GRID_ENGINE: [&str; 4] = ["SGE_TASK_ID", "SGE_TASK_FIRST", "SGE_TASK_LAST", "SGE_TASK_STEPSIZE"];

/// What is said outside of a job array.
const NO_ARRAY: &str =
    "`array` needs the environment of a job array, such as SLURM_ARRAY_TASK_ID and SLURM_ARRAY_TASK_COUNT";
/// What is said within one that was asked for some indices only: it would take itself for the whole.
const GAPS: &str = "this job array does not count from 1 without gaps, so that it does not tell how many parts there are; write the \
                    number of all parts, such as `--part \"$SLURM_ARRAY_TASK_ID/10\"`";

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

    /// The part that the environment of a job array names: an array that counts from 0 or 1 without gaps.
    fn of_environment(variable: impl Fn(&str) -> Option<usize>) -> Result<Self, &'static str> {
        let [id, first, last, count] = SLURM.map(&variable);
        let (id, first, last, jobs) = match (id, count) {
            (Some(id), Some(count)) => (Some(id), first, last, Some(count)),
            _ => {
                let [id, first, last, step] = GRID_ENGINE.map(&variable);
                let jobs = last.map(|last| (last + 1).saturating_sub(first.unwrap_or(1)) / step.unwrap_or(1).max(1));
                (id, first, last, jobs)
            }
        };
        let (id, jobs, first) = (id.ok_or(NO_ARRAY)?, jobs.ok_or(NO_ARRAY)?, first.unwrap_or(1));
        let whole = first <= 1 && last.is_none_or(|last| last + 1 == first + jobs);
        let index = (id + 1).checked_sub(first).ok_or(GAPS)?;
        if whole { Ok(Self { index, of: jobs }) } else { Err(GAPS) }
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
            return Self::of_environment(variable).and_then(|part| part.sound().ok_or(GAPS)).map_err(str::to_owned);
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

    /// An environment with some numbers.
    fn environment<'a>(set: &'a [(&str, usize)]) -> impl Fn(&str) -> Option<usize> + 'a {
        |name| set.iter().find(|(known, _)| *known == name).map(|(_, number)| *number)
    }

    #[test]
    fn job_arrays_name_their_part() {
        let slurm =
            |values: [usize; 4]| Part::of_environment(environment(&SLURM.into_iter().zip(values).collect::<Vec<_>>()));
        assert_eq!(slurm([3, 1, 8, 8]), Ok(Part { index: 3, of: 8 }));
        assert_eq!(slurm([0, 0, 7, 8]), Ok(Part { index: 1, of: 8 }));
        let grid = [("SGE_TASK_ID", 4), ("SGE_TASK_LAST", 5)];
        assert_eq!(Part::of_environment(environment(&grid)), Ok(Part { index: 4, of: 5 }));
        assert_eq!(Part::of_environment(|_| None), Err(NO_ARRAY));
        // Asked for one index, for some, or for every second: such an array takes itself for the whole.
        for some in [[4, 4, 4, 1], [5, 2, 7, 3], [3, 1, 9, 5]] {
            assert_eq!(slurm(some), Err(GAPS), "{some:?}");
        }
        let stepped = [("SGE_TASK_ID", 3), ("SGE_TASK_FIRST", 1), ("SGE_TASK_LAST", 9), ("SGE_TASK_STEPSIZE", 2)];
        assert_eq!(Part::of_environment(environment(&stepped)), Err(GAPS));
    }

    #[test]
    fn a_part_is_written_as_which_of_how_many() {
        for wrong in ["0/3", "4/3", "1", "1/0", "a/b", ""] {
            assert!(wrong.parse::<Part>().is_err(), "{wrong}");
        }
        assert_eq!(" 2/5".parse(), Ok(Part { index: 2, of: 5 }));
    }
}

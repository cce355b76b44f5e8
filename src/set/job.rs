//! A document of a set. In: nothing. Out: what it is called, and whose leaves are in it. It must print nothing.

use std::ops::Range;

/// A document to print; leaves of members by their places.
pub(super) enum Job {
    /// Sheets.
    Worksheets(String, Vec<usize>),
    /// Keys of their own.
    Keys(String, Vec<usize>),
    /// The key that the holders of a version share.
    SharedKeys(String, Vec<usize>),
    /// A grid of some students, in its order.
    Grid(String, Range<usize>),
    /// The grid of the versions.
    VersionGrid,
    /// The teacher's notes.
    Teacher,
    /// The sheet on top of a stack of some students.
    Cover(String, Range<usize>),
}

impl Job {
    /// The sheets and keys in it.
    pub(super) fn leaves(&self) -> usize {
        match self {
            Self::Worksheets(_, places) | Self::Keys(_, places) | Self::SharedKeys(_, places) => places.len(),
            Self::Grid(..) | Self::VersionGrid | Self::Teacher | Self::Cover(..) => 0,
        }
    }

    /// The name of its file.
    pub(super) fn file(&self) -> String {
        match self {
            Self::Worksheets(file, _) | Self::Keys(file, _) | Self::SharedKeys(file, _) => file.clone(),
            Self::Grid(file, _) | Self::Cover(file, _) => file.clone(),
            Self::VersionGrid => "grid-by-version.pdf".to_owned(),
            Self::Teacher => "teacher.pdf".to_owned(),
        }
    }
}

/// Adds rare jobs evenly among those from a place on, the last at the end: long tables take much memory, and no two of them
/// should be set at a time.
pub(super) fn spread(jobs: &mut Vec<Job>, from: usize, rare: Vec<Job>) {
    let (common, rare_ones) = (jobs.len().saturating_sub(from), rare.len().max(1));
    for (index, job) in rare.into_iter().enumerate() {
        jobs.insert(from + (index + 1) * common / rare_ones + index, job);
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn rare_jobs_stand_apart_and_the_last_at_the_end() {
        let volume = |number: usize| Job::Keys(format!("keys-{number}"), Vec::new());
        let grid = |number: usize| Job::Grid(format!("grid-{number}"), 0..1);
        let order = |volumes: usize, from: usize, grids: usize| {
            let mut jobs: Vec<Job> = (1..=volumes).map(volume).collect();
            spread(&mut jobs, from, (1..=grids).map(grid).collect());
            jobs.iter().map(Job::file).collect::<Vec<_>>()
        };
        assert_eq!(order(4, 0, 2), ["keys-1", "keys-2", "grid-1", "keys-3", "keys-4", "grid-2"]);
        assert_eq!(order(2, 0, 1), ["keys-1", "keys-2", "grid-1"]);
        assert_eq!(order(1, 0, 2), ["grid-1", "keys-1", "grid-2"]);
        assert_eq!(order(1, 0, 0), ["keys-1"]);
        assert_eq!(order(4, 2, 2), ["keys-1", "keys-2", "keys-3", "grid-1", "keys-4", "grid-2"]);
        assert_eq!(order(3, 0, 2), ["keys-1", "grid-1", "keys-2", "keys-3", "grid-2"]);
    }
}

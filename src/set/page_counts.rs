//! The pages of each member's sheet, as volumes are printed. In: counts, from several threads. Out: all counts, to whoever waits for
//! them. It must let nobody wait for a sheet that will not come.

use std::sync::{Condvar, Mutex, PoisonError};

/// Pages of sheets that are being printed.
pub(super) struct PageCounts {
    state: Mutex<State>,
    changed: Condvar,
}

struct State {
    counts: Vec<usize>,
    missing: usize,
    given_up: bool,
}

impl PageCounts {
    /// Counts of so many members, none known so far.
    pub(super) fn of(members: usize) -> Self {
        let state = State { counts: vec![0; members], missing: members, given_up: false };
        Self { state: Mutex::new(state), changed: Condvar::new() }
    }

    /// Notes the counts of the members at some places, once for each.
    pub(super) fn note(&self, places: &[usize], counts: &[usize]) {
        self.change(|state| {
            for (&place, &count) in places.iter().zip(counts) {
                state.counts[place] = count;
                state.missing -= 1;
            }
        });
    }

    /// Sends everybody away who waits: some counts will never be known.
    pub(super) fn give_up(&self) {
        self.change(|state| state.given_up = true);
    }

    /// All counts in the members' order, as soon as they are known; nothing if they never will be.
    pub(super) fn all(&self) -> Option<Vec<usize>> {
        let state = self.state.lock().unwrap_or_else(PoisonError::into_inner);
        let waiting = |state: &mut State| state.missing > 0 && !state.given_up;
        let state = self.changed.wait_while(state, waiting).unwrap_or_else(PoisonError::into_inner);
        (state.missing == 0).then(|| state.counts.clone())
    }

    fn change(&self, change: impl FnOnce(&mut State)) {
        change(&mut self.state.lock().unwrap_or_else(PoisonError::into_inner));
        self.changed.notify_all();
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn whoever_waits_gets_all_counts() {
        let counts = PageCounts::of(3);
        std::thread::scope(|scope| {
            let waiting = scope.spawn(|| counts.all());
            counts.note(&[2, 0], &[6, 4]);
            counts.note(&[1], &[5]);
            assert_eq!(waiting.join().expect("no panic"), Some(vec![4, 5, 6]));
        });
    }

    #[test]
    fn nobody_waits_for_what_will_not_come() {
        let counts = PageCounts::of(2);
        std::thread::scope(|scope| {
            let waiting = scope.spawn(|| counts.all());
            counts.note(&[1], &[6]);
            counts.give_up();
            assert_eq!(waiting.join().expect("no panic"), None);
        });
        assert_eq!(PageCounts::of(0).all(), Some(Vec::new()));
    }
}

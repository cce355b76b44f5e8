//! The pages of each member's sheet, as volumes are printed. In: counts, from several threads. Out: all counts, to whoever waits for
//! them. It must let nobody wait for a sheet that will not come.

use std::sync::{Condvar, Mutex, PoisonError};

/// Pages of sheets that are being printed.
pub(super) struct PageCounts {
    state: Mutex<State>,
    changed: Condvar,
}

struct State {
    /// Nothing as long as a sheet is not printed.
    counts: Vec<Option<usize>>,
    given_up: bool,
}

impl PageCounts {
    /// Counts of so many members, none known so far.
    pub(super) fn of(members: usize) -> Self {
        let state = State { counts: vec![None; members], given_up: false };
        Self { state: Mutex::new(state), changed: Condvar::new() }
    }

    /// Notes the counts of the members at some places; a sheet that is printed once more, alone, has as many.
    pub(super) fn note(&self, places: &[usize], counts: &[usize]) {
        self.change(|state| {
            for (&place, &count) in places.iter().zip(counts) {
                state.counts[place] = Some(count);
            }
        });
    }

    /// Sends everybody away who waits: some counts will never be known.
    pub(super) fn give_up(&self) {
        self.change(|state| state.given_up = true);
    }

    /// Gives up if the thread that holds this panics.
    pub(super) fn watch(&self) -> Watch<'_> {
        Watch(self)
    }

    /// All counts in the members' order, as soon as they are known; nothing if they never will be.
    pub(super) fn all(&self) -> Option<Vec<usize>> {
        let state = self.state.lock().unwrap_or_else(PoisonError::into_inner);
        let waiting = |state: &mut State| state.counts.contains(&None) && !state.given_up;
        let state = self.changed.wait_while(state, waiting).unwrap_or_else(PoisonError::into_inner);
        state.counts.iter().copied().collect()
    }

    fn change(&self, change: impl FnOnce(&mut State)) {
        change(&mut self.state.lock().unwrap_or_else(PoisonError::into_inner));
        self.changed.notify_all();
    }
}

/// What a thread holds that prints sheets.
pub(super) struct Watch<'c>(&'c PageCounts);

impl Drop for Watch<'_> {
    fn drop(&mut self) {
        if std::thread::panicking() {
            self.0.give_up();
        }
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
            counts.note(&[2], &[6]);
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

    #[test]
    fn nobody_waits_for_a_thread_that_panicked() {
        let counts = PageCounts::of(1);
        std::thread::scope(|scope| {
            let waiting = scope.spawn(|| counts.all());
            let failing = scope.spawn(|| {
                let _watch = counts.watch();
                std::panic::resume_unwind(Box::new(()));
            });
            assert!(failing.join().is_err());
            assert_eq!(waiting.join().expect("no panic"), None);
        });
    }
}

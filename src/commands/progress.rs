//! How far a long job is. In: steps as they are done, on any thread. Out: a line on the terminal that is written over, with rate and
//! time left. It must write nothing where nobody watches, and leave nothing behind.

use std::{
    io::{IsTerminal, Write, stderr},
    sync::{Mutex, PoisonError},
    time::{Duration, Instant},
};

/// Before this, and between two lines, nothing is shown.
const PATIENCE: Duration = Duration::from_millis(500);

/// The progress of a job of so many steps.
pub(super) struct Progress {
    total: usize,
    started: Instant,
    state: Mutex<State>,
    watched: bool,
}

struct State {
    done: usize,
    shown: Instant,
    /// Signs of the line that stands.
    width: usize,
}

impl Progress {
    pub(super) fn of(total: usize) -> Self {
        let started = Instant::now();
        let state = Mutex::new(State { done: 0, shown: started, width: 0 });
        Self { total, started, state, watched: stderr().is_terminal() }
    }

    /// Counts steps, and shows the line anew when it is time.
    pub(super) fn step(&self, steps: usize) {
        let mut state = self.state.lock().unwrap_or_else(PoisonError::into_inner);
        state.done += steps;
        if self.watched && state.shown.elapsed() >= PATIENCE {
            state.shown = Instant::now();
            let line = line(state.done, self.total, self.started.elapsed());
            // What was longer is wiped out.
            let _ = write!(stderr(), "\r{line:<width$}", width = state.width);
            let _ = stderr().flush();
            state.width = line.chars().count();
        }
    }
}

impl Drop for Progress {
    fn drop(&mut self) {
        let width = self.state.get_mut().map_or(0, |state| state.width);
        if width > 0 {
            let _ = write!(stderr(), "\r{:width$}\r", "");
        }
    }
}

fn line(done: usize, total: usize, elapsed: Duration) -> String {
    let rate = done as f64 / elapsed.as_secs_f64().max(1e-3);
    let left = (total.saturating_sub(done) as f64 / rate.max(1e-6)).min(359_999.0) as u64;
    let clock = match (left / 3600, left / 60 % 60, left % 60) {
        (0, minutes, seconds) => format!("{minutes}:{seconds:02}"),
        (hours, minutes, seconds) => format!("{hours}:{minutes:02}:{seconds:02}"),
    };
    format!("{done} of {total} sheets and keys, {rate:.0} a second, {clock} left")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_line_tells_rate_and_time_left() {
        let shown = line(150, 600, Duration::from_secs(3));
        assert_eq!(shown, "150 of 600 sheets and keys, 50 a second, 0:09 left");
        assert_eq!(line(1, 20_000, Duration::from_secs(1)), "1 of 20000 sheets and keys, 1 a second, 5:33:19 left");
        assert!(line(0, 5, Duration::ZERO).contains("0 of 5"));
    }
}

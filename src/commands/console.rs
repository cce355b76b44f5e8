//! Where a command writes. In: results and diagnostics. Out: the same on two streams. It must not decide what is said.

use std::io::Write;

use crate::report::{self, Problem};

/// The two streams of a run.
pub struct Console<'a> {
    out: &'a mut dyn Write,
    err: &'a mut dyn Write,
    colour: bool,
}

impl<'a> Console<'a> {
    /// A console on two streams; `colour` where the second is a terminal.
    pub fn new(out: &'a mut dyn Write, err: &'a mut dyn Write, colour: bool) -> Self {
        Self { out, err, colour }
    }

    /// Prints a result. A reader that has gone away is no fault of ours.
    pub fn print(&mut self, text: &str) {
        let _ = self.out.write_all(text.as_bytes());
        let _ = self.out.flush();
    }

    /// Prints a line of diagnostics.
    pub fn note(&mut self, text: &str) {
        let _ = writeln!(self.err, "{}", text.trim_end());
    }

    /// Prints problems.
    pub fn problems(&mut self, problems: &[Problem]) {
        if !problems.is_empty() {
            let text = report::show(problems, self.colour);
            self.note(&text);
        }
    }
}

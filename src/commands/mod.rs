//! The commands. In: arguments. Out: text, files and an exit code. A command must only hand work on, never do it.

mod args;
mod audit;
mod basis;
mod check;
mod console;
mod explain;
mod fit;
mod handed_back;
mod list;
mod load;
mod make;
mod mark;
mod one_file;
mod preview;
mod progress;
mod readings;
mod schema;
mod show;
mod simulate;
mod warn;

use clap::Parser;

pub use console::Console;

use crate::report::Problems;
use args::{Args, Command};

/// How a run ended.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Ending {
    /// Done.
    Done,
    /// The user's input is at fault.
    Input,
    /// The command line is at fault.
    Usage,
    /// The program is at fault.
    Own,
}

impl Ending {
    /// The exit code.
    pub fn code(self) -> u8 {
        match self {
            Self::Done => 0,
            Self::Input => 1,
            Self::Usage => 2,
            Self::Own => 3,
        }
    }
}

/// Why a command stopped.
pub(crate) enum Stop {
    /// What the user gave is at fault.
    Input(Problems),
    /// The program itself is at fault.
    Own(String),
}

impl From<Problems> for Stop {
    fn from(problems: Problems) -> Self {
        Self::Input(problems)
    }
}

impl From<crate::report::Problem> for Stop {
    fn from(problem: crate::report::Problem) -> Self {
        Self::Input(vec![problem])
    }
}

/// Runs a command line, the program's name first.
pub fn run<I, T>(line: I, console: &mut Console<'_>) -> Ending
where
    I: IntoIterator<Item = T>,
    T: Into<std::ffi::OsString> + Clone,
{
    let args = match Args::try_parse_from(line) {
        Ok(args) => args,
        Err(error) if error.use_stderr() => {
            console.note(&error.to_string());
            return Ending::Usage;
        }
        Err(error) => {
            console.print(&error.to_string());
            return Ending::Done;
        }
    };
    let done = load::language(&args.lang).and_then(|language| match &args.command {
        Command::List(list) => list::run(list, language, console),
        Command::Show(show) => show::run(show, language, console),
        Command::Make(make) => make::run(make, language, console),
        Command::Audit(audit) => audit::run(audit, language, console),
        Command::Mark(mark) => mark::run(mark, language, console),
        Command::Preview(preview) => preview::run(preview, language, console),
        Command::Fit(fit) => fit::run(fit, language, console),
        Command::Check(check) => check::run(check, console),
        Command::Simulate(simulate) => simulate::run(simulate, console),
        Command::Schema => schema::run(console),
    });
    match done {
        Ok(()) => Ending::Done,
        Err(Stop::Input(problems)) => {
            console.problems(&problems);
            Ending::Input
        }
        Err(Stop::Own(message)) => {
            console.note(&format!("error: this is the program's own fault: {message}"));
            Ending::Own
        }
    }
}

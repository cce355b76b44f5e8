//! The program: hands the arguments over and exits with the code that comes back. It must hold no logic.

use std::{
    io::{IsTerminal, stderr, stdout},
    process::ExitCode,
};

use labquire::commands::{Console, run};
use mimalloc::MiMalloc;

/// Typst makes and drops many small things; this allocator saves an eighth of the time that a set takes.
#[global_allocator]
static ALLOCATOR: MiMalloc = MiMalloc;

fn main() -> ExitCode {
    let colour = stderr().is_terminal();
    // Not locked: progress is shown from other threads.
    let (mut out, mut err) = (stdout().lock(), stderr());
    ExitCode::from(run(std::env::args_os(), &mut Console::new(&mut out, &mut err, colour)).code())
}

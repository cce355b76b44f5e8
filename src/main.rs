//! The program: hands the arguments over and exits with the code that comes back. It must hold no logic.

fn main() {}

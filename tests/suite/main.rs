//! The project's tests: one binary, a module a theme. In: the library as a user of it sees it.
//! Out: pass or fail. A test must never depend on the network or on another test.

mod press;
mod language;
mod scale;

//! The project's tests: one binary, a module a theme. In: the library as a user of it sees it.
//! Out: pass or fail. A test must never depend on the network or on another test.

mod bench;
mod bench_collector;
mod bench_lens;
mod bench_loop;
mod bench_plates;
mod bench_range;
mod catalogue;
mod class_file;
mod code;
mod command_line;
mod definitions;
mod draws;
mod faults;
mod fits;
mod folder;
mod formulas;
mod graphs;
mod heat_losses;
mod keys;
mod language;
mod numbers;
mod press;
mod quantity;
mod ranges;
mod reference;
mod report;
mod scale;
mod set;
mod smooth;
mod structure;
mod uncertainty;
mod units;
mod water;
mod working;
mod written;

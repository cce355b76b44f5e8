//! Keys. In: an experiment and one student's printed data. Out: every answer with its accepted range.
//! A key must be computed from what is printed, never from the true states.
//!
//! How far a careful student may land from the key, and nothing that care avoids:
//!
//! - *calculate*: all start from the same printed numbers, so only the student's own rounding counts: of earlier answers
//!   (each by half a unit in the last figure asked for, all at their worst together) and of the result. Offsets of
//!   instruments never count: they are in the printed numbers already.
//! - *read-from-graph*: the curve through the points is drawn by eye, so it lies within what noise and resolution of the
//!   instrument leave open; class limits cancel where one instrument reads all points. Half a small square is added
//!   for reading off.
//! - *from-drawn-line*: every straight line that stays within one standard uncertainty of the fitted one at both ends of
//!   the points is admissible; the triangle for the slope spans half the line, and each of its ends is read to half a
//!   small square on both axes.
//! - *from-fit*: noise and resolution through the fit.
//!
//! Noise and resolution of a reading count as one normal error, which is close where the noise is half a step of the
//! display or more. Graphs are judged on paper of normal print.
//!
//! The range is the wider of what the student's own roundings can do at their worst, and the 95 % coverage interval of
//! everything together (see `uncertainty` for the method). It is at least one unit in the last figure wide to
//! both sides, and cut half way to a likely slip that would fall inside: those in the definition, and powers of ten.

mod answer;
mod budget;
mod build;
mod gap;
mod ledger;
mod model;
mod paper;
mod points;
mod range;
mod slip;
mod warn;

pub use answer::{Answer, Cell, Number};
pub use budget::{Bound, Budget, Cause, Contribution};
pub use build::{Key, KeyError, Rule, answered};
pub use gap::Gap;
pub use points::line_points;
pub use slip::{Slip, SlipKind};
pub use warn::slip_warnings;

//! Uncertainty. In: a formula, values, and what each value may be off by. Out: what the result may be off by.
//! It must know nothing of tasks or students.
//!
//! Every deviation is written as a sum over independent errors ([`Deviation`]), so whatever two quantities share moves
//! them together and no correlation is lost along a chain of formulas (JCGM 100:2008, 5.2, F.1.2). A formula passes
//! deviations on to first order ([`first_order`], JCGM 100:2008, 5.1.2) or by drawing them ([`monte_carlo`],
//! JCGM 101:2008). Both take the same inputs, so one can be checked against the other (JCGM 101:2008, clause 8).
//!
//! The rule between the two, [`Method::of`]: Monte Carlo where the formula has a kink at something uncertain, or where
//! the standard uncertainty is more than a tenth of the value; first order else. At a tenth, the second-order term of a
//! quotient is a tenth of the first-order one. Values are compared in SI, temperatures on a scale in kelvins.

mod deviation;
mod distribution;
mod draws;
mod first_order;
mod input;
mod interval;
mod method;
mod monte_carlo;

pub use deviation::{Deviation, Errors};
pub use distribution::Distribution;
pub use draws::DRAWS;
pub use first_order::{first_order, first_order_rows};
pub use input::Input;
pub(crate) use input::Moved;
pub use interval::{COVERAGE_FACTOR, Interval};
pub use method::Method;
pub use monte_carlo::monte_carlo;

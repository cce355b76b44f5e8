//! Why a bench did not run. In: numbers. Out: words that say why. It must not propose other settings.

/// Why a bench did not run.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum BenchError {
    /// A name that is no input.
    #[error("the bench has no input `{name}`")]
    UnknownInput {
        /// The name.
        name: String,
        /// The nearest input.
        near: Option<String>,
    },
    /// A setting outside the range in which the model holds.
    #[error("`{name}` is {value} {unit}, but the model holds from {low} to {high} {unit}")]
    OutOfRange {
        /// The input.
        name: &'static str,
        /// What it was set to.
        value: f64,
        /// Its unit.
        unit: &'static str,
        /// Smallest valid value.
        low: f64,
        /// Largest valid value.
        high: f64,
    },
    /// The water would come too near to boiling, in the vessel or where it leaves the collector.
    #[error("the water would reach {limit:.1} °C; the model and the bench end at {highest:.0} °C")]
    TooHot {
        /// The temperature it would reach, °C.
        limit: f64,
        /// The highest that is allowed, °C.
        highest: f64,
    },
    /// A state would leave the range in which the model holds.
    #[error("`{state}` would reach {reached:.1} {unit}, but the model holds from {low} to {high} {unit}")]
    LeavesModel {
        /// The state.
        state: &'static str,
        /// The value that it would reach.
        reached: f64,
        /// Its unit.
        unit: &'static str,
        /// Smallest valid value.
        low: f64,
        /// Largest valid value.
        high: f64,
    },
    /// A part of the bench would get too hot.
    #[error("the {part} would reach {reached:.1} °C; the model and the bench end at {highest:.0} °C")]
    Overheated {
        /// The part.
        part: &'static str,
        /// The temperature it would reach, °C.
        reached: f64,
        /// The highest that is allowed, °C.
        highest: f64,
    },
    /// The places at which a run is read do not ascend from zero or above.
    #[error("the values at which the bench is read must ascend from zero or above, found {value} out of order")]
    Order {
        /// The first value out of order.
        value: f64,
    },
    /// The solver gave up.
    #[error("the equations could not be solved: {0}")]
    Solver(String),
}

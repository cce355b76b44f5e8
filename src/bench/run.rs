//! What a run gives. In: true states. Out: the same by column, with energy ledger and limits. It must round nothing.

/// A run of a bench.
#[derive(Debug, Clone, PartialEq)]
pub struct Run {
    /// A column for each state, in the state's unit.
    pub columns: Vec<Vec<f64>>,
    /// Where the energy went, if heat flows on this bench.
    pub energy: Option<Energy>,
    /// What the states tend to.
    pub limits: Vec<Limit>,
}

/// What a state tends to.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Limit {
    /// The state's id.
    pub state: &'static str,
    /// Its limit, in the state's unit.
    pub value: f64,
}

/// The energy ledger of a run, in joules.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Energy {
    /// Taken in: light and electricity.
    pub supplied: f64,
    /// Stored in the parts of the bench at the end, less that at the start.
    pub stored: f64,
    /// Given off to the room.
    pub lost: f64,
}

impl Energy {
    /// What the ledger fails to account for.
    pub fn residual(&self) -> f64 {
        self.supplied - self.stored - self.lost
    }
}

//! Benches: the physics of what stands on the table. In: settings and the places where something is read.
//! Out: true states, an energy ledger, limits. It must know nothing of experiments, instruments or sheets.

pub mod air;
mod bench_error;
mod collector;
pub mod convection;
pub mod cover;
mod cover_glass;
pub mod gap;
mod integrate;
mod lamp;
pub mod lens;
mod lens_focus;
mod lens_heating;
pub mod lumped;
mod pair;
mod plate;
mod plates;
mod pump;
mod pumped_loop;
pub mod radiation;
mod root;
mod run;
mod settings;
mod store;
pub mod surface;
pub mod water;

pub use bench_error::BenchError;
pub use collector::Collector;
pub use cover_glass::CoverGlass;
pub use lamp::Lamp;
pub use lens::Lens;
pub use lens_focus::LensFocus;
pub use lens_heating::LensHeating;
pub use plate::Plate;
pub use plates::Plates;
pub use pumped_loop::PumpedLoop;
pub use run::{Energy, Limit, Run};
pub use settings::Settings;

/// A quantity that a bench is set to.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Input {
    /// Its name in definitions.
    pub name: &'static str,
    /// The unit of its values, such as `W/(m2 K)`.
    pub unit: &'static str,
    /// Its value where nobody sets it.
    pub default: f64,
    /// The values between which the model holds.
    pub valid: (f64, f64),
    /// What it is, for authors.
    pub about: &'static str,
}

/// A row of a bench's table of inputs.
const fn input(name: &'static str, unit: &'static str, default: f64, valid: (f64, f64), about: &'static str) -> Input {
    Input { name, unit, default, valid, about }
}

/// A quantity that a run gives.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct State {
    /// Its name in definitions.
    pub id: &'static str,
    /// The unit of its values.
    pub unit: &'static str,
    /// What it is, for authors.
    pub about: &'static str,
}

/// A bench that can be simulated.
pub trait Bench: Sync {
    /// Its name in definitions.
    fn id(&self) -> &'static str;

    /// What can be set.
    fn inputs(&self) -> &'static [Input];

    /// What a run gives, in order.
    fn states(&self) -> &'static [State];

    /// What is varied from row to row: the time, a distance, a load.
    fn variable(&self) -> State;

    /// Runs the bench and gives its states at the given values of the variable, which ascend from zero or above.
    ///
    /// # Errors
    /// A [`BenchError`] where a setting leaves its valid range, the water would boil, or the solver fails.
    fn run(&self, settings: &Settings, at: &[f64]) -> Result<Run, BenchError>;
}

static BENCHES: &[&dyn Bench] = &[&CoverGlass, &LensFocus, &LensHeating, &Plates, &PumpedLoop];

/// All benches.
pub fn all() -> &'static [&'static dyn Bench] {
    BENCHES
}

/// The bench of a name.
pub fn find(id: &str) -> Option<&'static dyn Bench> {
    BENCHES.iter().copied().find(|bench| bench.id() == id)
}

//! Benches: the physics of what stands on the table. In: settings and the places where something is read.
//! Out: true states, an energy ledger, limits. It must know nothing of experiments, instruments or sheets.

pub mod air;
mod bench_error;
mod calorimeter;
mod coil_store;
mod collector;
pub mod convection;
pub mod cooling;
pub mod cover;
mod cover_glass;
mod covered_store;
pub mod divider;
mod dry_collector;
pub mod evaporation;
pub mod exchange;
mod exchanger;
pub mod f_chart;
pub mod fin;
pub mod gap;
mod heated_vessel;
mod household;
pub mod incidence;
mod insulated_vessels;
pub mod insulation;
mod integrate;
mod lamp;
pub mod lens;
mod lens_focus;
mod lens_heating;
mod light;
pub mod light_law;
mod loaded_divider;
pub mod lumped;
mod mirror;
pub mod mixture;
mod module_faces;
mod module_load;
mod module_motor;
mod module_stores;
mod motor;
mod pair;
pub mod parabola;
mod paraffin_store;
pub mod pipe;
mod plate;
mod plates;
mod pump;
mod pump_drive;
mod pumped_loop;
pub mod radiation;
mod root;
pub mod rotor_pump;
mod run;
mod settings;
pub mod siphon;
pub mod sky;
mod source;
mod steady;
mod steady_collector;
pub mod stefan;
mod store;
mod store_pair;
pub mod surface;
pub mod thermoelectric;
mod thermosiphon;
mod tilt;
pub mod top_loss;
mod trough;
mod vessel;
pub mod water;
mod wax;

pub use bench_error::BenchError;
pub use calorimeter::Calorimeter;
pub use coil_store::CoilStore;
pub use collector::Collector;
pub use cover_glass::CoverGlass;
pub use covered_store::{CoveredStore, cover_resistance, covered_loss};
pub use divider::Divider;
pub use dry_collector::DryCollector;
pub use exchanger::Exchanger;
pub use household::Household;
pub use insulated_vessels::InsulatedVessels;
pub use lamp::Lamp;
pub use lens::Lens;
pub use lens_focus::LensFocus;
pub use lens_heating::LensHeating;
pub use light::LampLight;
pub use loaded_divider::LoadedDivider;
pub use mirror::{Mirror, Tube};
pub use module_faces::ModuleFaces;
pub use module_load::ModuleLoad;
pub use module_motor::ModuleMotor;
pub use module_stores::ModuleStores;
pub use motor::{Motor, ShaftLoad};
pub use paraffin_store::ParaffinStore;
pub use pipe::{Fluid, Pipe};
pub use plate::Plate;
pub use plates::Plates;
pub use pump_drive::PumpDrive;
pub use pumped_loop::PumpedLoop;
pub use rotor_pump::RotorPump;
pub use run::{Energy, Limit, Run};
pub use settings::Settings;
pub use siphon::Siphon;
pub use source::Source;
pub use steady_collector::{CollectorFlow, CollectorInlet};
pub use store_pair::StorePair;
pub use thermoelectric::Thermoelectric;
pub use thermosiphon::Thermosiphon;
pub use tilt::TiltedCollector;
pub use trough::{Trough, TroughAgainstPlate, TroughFocus};
pub use vessel::Vessel;
pub use wax::Wax;

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

static BENCHES: &[&dyn Bench] = &[
    &Calorimeter,
    &CoilStore,
    &CollectorFlow,
    &CollectorInlet,
    &CoverGlass,
    &CoveredStore,
    &DryCollector,
    &Exchanger,
    &Household,
    &InsulatedVessels,
    &LampLight,
    &LensFocus,
    &LensHeating,
    &LoadedDivider,
    &ModuleLoad,
    &ModuleMotor,
    &ModuleStores,
    &ParaffinStore,
    &Plates,
    &PumpDrive,
    &PumpedLoop,
    &StorePair,
    &Thermosiphon,
    &TiltedCollector,
    &Trough,
    &TroughAgainstPlate,
    &TroughFocus,
    &Vessel,
];

/// All benches.
pub fn all() -> &'static [&'static dyn Bench] {
    BENCHES
}

/// The bench of a name.
pub fn find(id: &str) -> Option<&'static dyn Bench> {
    BENCHES.iter().copied().find(|bench| bench.id() == id)
}

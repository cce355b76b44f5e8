//! Benches with a parabolic trough and a tube of water in it. In: settings. Out: true states.
//! They must not read instruments: what a thermometer shows is made elsewhere.

mod against_plate;
mod focus;
mod heating;
mod model;
mod parts;

pub use against_plate::TroughAgainstPlate;
pub use focus::TroughFocus;
pub use heating::Trough;

/// The highest temperature of the water, °C.
const HIGHEST: f64 = 95.0;

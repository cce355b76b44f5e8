//! A plate or tube with a stream of water when nothing changes any more. In: absorbed power in W, temperatures in °C, the
//! stream in W/K. Out: its temperature and the heat that the stream takes. It must not know where the light comes from.

use super::{Collector, root};

/// No plate or tube on a bench comes near this excess over the air, K.
const BEYOND: f64 = 1e4;

/// The steady state of a plate or tube.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Steady {
    /// Mean temperature of the plate or tube, °C.
    pub(crate) plate: f64,
    /// Heat that the stream takes, W.
    pub(crate) useful: f64,
    /// Temperature of the water that leaves, °C.
    pub(crate) outlet: f64,
}

impl Steady {
    /// Where absorbed power, loss to the air and heat to the stream balance: `N = loss(T_p − T_a) + k (T_p − T_in)`.
    pub(crate) fn of(collector: &Collector, absorbed: f64, rate: f64, inlet: f64, room: f64) -> Self {
        let taken = |plate: f64| collector.coupling(rate, plate - room) * (plate - inlet);
        let rest = |plate: f64| absorbed - collector.loss(plate - room) - taken(plate);
        let plate = root::falling(room.min(inlet) - 1.0, room.max(inlet) + BEYOND, rest);
        let useful = taken(plate);
        Self { plate, useful, outlet: inlet + useful / rate }
    }
}

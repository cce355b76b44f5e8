//! The steady state of two streams. In: settings, flows in kg/s. Out: temperatures and powers in SI.
//! It must take the effectiveness from the relations of exchangers.

use super::super::{Settings, exchange::Arrangement, water};

/// Two streams that pass each other.
#[derive(Debug, Clone, Copy)]
pub(super) struct Model {
    hot_flow: f64,
    transfer: f64,
    hot_inlet: f64,
    cold_inlet: f64,
    hose_loss: f64,
    room: f64,
}

/// A steady state.
#[derive(Debug, Clone, Copy)]
pub(super) struct Steady {
    /// Effectiveness, 1.
    pub(super) effectiveness: f64,
    /// Heat that passes, W.
    pub(super) passed: f64,
    /// Hot stream at its thermometer, °C.
    pub(super) hot_read: f64,
    /// Cold stream at its thermometer, °C.
    pub(super) cold_read: f64,
    /// Heat given off by the hot stream, taken up by the cold one, and lost by the hoses in a second, J.
    pub(super) second: [f64; 3],
}

impl Model {
    pub(super) fn new(settings: &Settings) -> Self {
        let of = |name| settings.get(name);
        Self {
            hot_flow: of("hot_flow") / 1000.0,
            transfer: of("transfer"),
            hot_inlet: of("hot_inlet"),
            cold_inlet: of("cold_inlet"),
            hose_loss: of("hose_loss"),
            room: of("room_temperature"),
        }
    }

    /// The steady state at a cold flow in kg/s.
    pub(super) fn steady(&self, arrangement: Arrangement, cold_flow: f64) -> Steady {
        let heat_capacity = water::heat_capacity((self.hot_inlet + self.cold_inlet) / 2.0);
        let (hot, cold) = (self.hot_flow * heat_capacity, cold_flow * heat_capacity);
        let least = hot.min(cold);
        let effectiveness = arrangement.effectiveness(self.transfer / least, least / hot.max(cold));
        let between = self.hot_inlet - self.cold_inlet;
        let passed = effectiveness * least * between;
        // The weaker stream changes by ε of the difference, also where it stands still.
        let change = |rate: f64| effectiveness * between * if rate > least { least / rate } else { 1.0 };
        let (hot_outlet, cold_outlet) = (self.hot_inlet - change(hot), self.cold_inlet + change(cold));
        let (hot_read, hot_lost) = self.hose(hot_outlet, hot);
        let (cold_read, cold_lost) = self.hose(cold_outlet, cold);
        let (given, taken) = (hot * (self.hot_inlet - hot_read), cold * (cold_read - self.cold_inlet));
        Steady { effectiveness, passed, hot_read, cold_read, second: [given, taken, hot_lost + cold_lost] }
    }

    /// Temperature at the end of a hose, and what the hose loses, W.
    fn hose(&self, t: f64, rate: f64) -> (f64, f64) {
        if self.hose_loss <= 0.0 {
            return (t, 0.0);
        }
        let share = -libm::expm1(-self.hose_loss / rate);
        (t - share * (t - self.room), share * rate * (t - self.room))
    }
}

//! The faces of a thermoelectric module between a warm and a cool body. In: temperatures in °C, heat resistances, how the
//! current follows from the temperature difference. Out: the steady temperatures of the faces. It must store no heat.
//!
//! `T_h = T_s − R_h Q_h`, `T_c = T_k + R_c Q_c`, with Q_h and Q_c from [`super::Thermoelectric`] (kelvins there).

use super::{Thermoelectric, root, thermoelectric::CELSIUS_ZERO};

/// What warms and what cools a module, each behind a heat resistance.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ModuleFaces {
    /// Temperature T_s of the warm body, °C.
    pub source: f64,
    /// Temperature T_k of the cool body, °C.
    pub sink: f64,
    /// Heat resistance R_h from the warm body to the hot face, K/W.
    pub hot_resistance: f64,
    /// Heat resistance R_c from the cold face to the cool body, K/W.
    pub cold_resistance: f64,
}

impl ModuleFaces {
    /// The temperatures of hot and cold face (K) at which all heat flows are steady, where `current` (A) follows from the
    /// difference of the faces (K).
    ///
    /// For a difference D both heat flows are linear in the temperature of their own face, so that both faces follow; the
    /// difference that they then have falls while D grows, and lies between zero and that of the two bodies.
    pub fn settle(&self, module: &Thermoelectric, current: impl Fn(f64) -> f64) -> (f64, f64) {
        let difference = self.source - self.sink;
        let (low, high) = (difference.min(0.0), difference.max(0.0));
        let settled = root::falling(low, high, |difference| {
            let (hot, cold) = self.faces(module, difference, current(difference));
            hot - cold - difference
        });
        self.faces(module, settled, current(settled))
    }

    fn faces(&self, module: &Thermoelectric, difference: f64, current: f64) -> (f64, f64) {
        let (joule, leak) = (module.resistance * current * current / 2.0, module.conductance * difference);
        let peltier = module.seebeck * current;
        let (source, sink) = (self.source + CELSIUS_ZERO, self.sink + CELSIUS_ZERO);
        let hot = (source + self.hot_resistance * (joule - leak)) / (1.0 + self.hot_resistance * peltier);
        let cold = (sink + self.cold_resistance * (joule + leak)) / (1.0 - self.cold_resistance * peltier);
        (hot, cold)
    }
}

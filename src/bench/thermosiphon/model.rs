//! The balance of drive and friction with the properties of water. In: settings, a power in W. Out: the steady state in SI.

use super::super::{BenchError, Fluid, Pipe, Settings, root, water};

/// Standard gravity, m/s².
const GRAVITY: f64 = 9.806_65;
/// The highest temperature of the water, °C.
const WATER_HIGHEST: f64 = 95.0;
/// Where laminar flow ends.
const LAMINAR: f64 = 2100.0;

/// The loop.
pub(super) struct Model {
    height: f64,
    pipe: Pipe,
    jacket: f64,
    cold: f64,
    marked: f64,
    room: f64,
}

/// The loop at one power.
pub(super) struct Steady {
    hot: f64,
    flow: f64,
    pub(super) carried: f64,
    pub(super) lost: f64,
}

/// Water at a temperature.
fn fluid(t: f64) -> Fluid {
    Fluid { density: water::density(t), viscosity: water::viscosity(t) }
}

impl Model {
    pub(super) fn new(settings: &Settings) -> Self {
        let of = |name| settings.get(name);
        Self {
            height: of("height"),
            pipe: Pipe { diameter: of("tube_diameter") / 1000.0, length: of("tube_length"), minor: of("fittings") },
            jacket: of("jacket_loss"),
            cold: of("cold_temperature"),
            marked: of("marked_length"),
            room: of("room_temperature"),
        }
    }

    fn mean(&self, hot: f64) -> f64 {
        (hot + self.cold) / 2.0
    }

    fn drive(&self, hot: f64) -> f64 {
        GRAVITY * self.height * (water::density(self.cold) - water::density(hot))
    }

    /// Flow that carries the heat away at a temperature behind the heater, kg/s.
    fn flow(&self, power: f64, hot: f64) -> f64 {
        let mean = self.mean(hot);
        let carried = (power - self.jacket * (mean - self.room)).max(0.0);
        if carried > 0.0 { carried / (water::heat_capacity(mean) * (hot - self.cold)) } else { 0.0 }
    }

    /// The steady state at a power.
    ///
    /// # Errors
    /// [`BenchError::TooHot`] where the water would get too hot or stands still, [`BenchError::LeavesModel`] where it would
    /// no longer flow in layers.
    pub(super) fn steady(&self, power: f64) -> Result<Steady, BenchError> {
        if power <= self.jacket * (self.cold - self.room) {
            return Ok(Steady { hot: self.cold, flow: 0.0, carried: 0.0, lost: power });
        }
        // More heat in the water means less flow for it and more drive, once the water is lighter than behind the cooler.
        let rest = |hot: f64| self.pipe.drop(fluid(self.mean(hot)), self.flow(power, hot)) - self.drive(hot);
        if rest(WATER_HIGHEST) > 0.0 {
            return Err(BenchError::TooHot { limit: WATER_HIGHEST, highest: WATER_HIGHEST });
        }
        let hot = root::falling(self.cold, WATER_HIGHEST, rest);
        let (mean, flow) = (self.mean(hot), self.flow(power, hot));
        let reynolds = self.pipe.reynolds(fluid(mean), flow);
        if reynolds > LAMINAR {
            let (state, reached, unit) = ("reynolds", reynolds, "1");
            return Err(BenchError::LeavesModel { state, reached, unit, low: 0.0, high: LAMINAR });
        }
        let carried = flow * water::heat_capacity(mean) * (hot - self.cold);
        Ok(Steady { hot, flow, carried, lost: self.jacket * (mean - self.room) })
    }

    /// The states of the bench, each in its unit. A front that does not move never arrives: its time is infinite.
    pub(super) fn row(&self, steady: &Steady) -> [f64; 9] {
        let fluid = fluid(self.mean(steady.hot));
        let speed = self.pipe.speed(fluid, steady.flow);
        [
            steady.hot,
            self.cold,
            1000.0 * steady.flow,
            self.drive(steady.hot),
            self.pipe.reynolds(fluid, steady.flow),
            1000.0 * speed,
            self.marked / (2.0 * speed),
            steady.carried,
            self.room,
        ]
    }
}

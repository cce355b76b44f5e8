//! A stirred vessel of water that is heated for a while and then left alone. In: a store, power, times in s.
//! Out: temperatures and heat. It must not know what heats it, nor what it is wrapped in.
//!
//! `(m c_p(T) + C_v) dT/dt = P − K (T − T_a)`, with P until the switching time and nothing afterwards. The run is integrated
//! in two parts, so that no step of the solver lies across the switching.

use super::{
    BenchError,
    integrate::{Balances, TOLERANCE, ascending, integrate},
    store::Store,
};

/// A vessel with a heater.
#[derive(Debug, Clone, Copy)]
pub(crate) struct HeatedVessel {
    pub(crate) store: Store,
    /// Power P of the heater, W.
    pub(crate) power: f64,
    /// When it is switched off, s.
    pub(crate) heating_time: f64,
    /// Temperature T_a of the room, °C.
    pub(crate) room: f64,
    /// Temperature at the start, °C.
    pub(crate) start: f64,
}

/// The state at one time.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Warmth {
    /// Temperature of the water, °C.
    pub(crate) water: f64,
    /// Heat supplied since the start, J.
    pub(crate) supplied: f64,
    /// Heat lost since the start, J.
    pub(crate) lost: f64,
}

/// A part of the run with one power.
struct Part<'a> {
    vessel: &'a HeatedVessel,
    power: f64,
}

impl Balances<2> for Part<'_> {
    /// States: temperature, heat lost.
    fn rates(&self, _: f64, &[water, _]: &[f64; 2]) -> [f64; 2] {
        let store = &self.vessel.store;
        let loss = store.loss(water - self.vessel.room);
        [(self.power - loss) / store.capacity(water), loss]
    }
}

impl HeatedVessel {
    /// Heat stored since the start at a temperature, J.
    pub(crate) fn stored(&self, water: f64) -> f64 {
        self.store.stored(self.start, water)
    }

    /// The state at each of the ascending times (s).
    pub(crate) fn solve(&self, times: &[f64]) -> Result<Vec<Warmth>, BenchError> {
        ascending(times)?;
        let (heated, alone) = times.split_at(times.partition_point(|&time| time <= self.heating_time));
        let heating = Part { vessel: self, power: self.power };
        let mut states = integrate(&heating, [self.start, 0.0], heated, TOLERANCE)?;
        if !alone.is_empty() {
            let turn = integrate(&heating, [self.start, 0.0], &[self.heating_time], TOLERANCE)?;
            let begin = turn.first().copied().unwrap_or([self.start, 0.0]);
            let shifted: Vec<f64> = alone.iter().map(|time| time - self.heating_time).collect();
            states.extend(integrate(&Part { vessel: self, power: 0.0 }, begin, &shifted, TOLERANCE)?);
        }
        let supplied = |time: f64| self.power * time.min(self.heating_time);
        let moments = states.iter().zip(times);
        Ok(moments.map(|(&[water, lost], &time)| Warmth { water, supplied: supplied(time), lost }).collect())
    }
}

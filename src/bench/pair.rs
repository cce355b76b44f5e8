//! Two plates that do not touch, each with a probe, in light that is switched on and off. In: plates, light, times in s.
//! Out: temperatures in °C and the energy that passed. It must not know where the light comes from.
//!
//! Each plate: `C dT/dt = A α G − loss(T)`, see [`super::Plate`]; its probe: `τ_p dT_d/dt = T_a + k (T − T_a) − T_d`, where a lag
//! τ_p below 0.1 s counts as none. Energy supplied `∫ A α G dt` and lost `∫ loss dt` of both are integrated with the states.

use super::{
    BenchError, Lamp, Plate,
    integrate::{Balances, ascending, integrate},
};

/// A probe that follows faster than this (s) counts as following at once.
const NO_LAG: f64 = 0.1;

/// Light as a share of its full strength: of a lamp, or of the sun where there is none, until it is switched off or shut out.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Glow {
    pub(crate) lamp: Option<Lamp>,
    /// When it ends, s.
    pub(crate) off: f64,
}

impl Glow {
    /// The share at a time in s; from the end on a lamp glows on for its warm-up constant.
    pub(crate) fn share(&self, time: f64) -> f64 {
        self.share_in(time, time > self.off)
    }

    fn share_in(&self, time: f64, dark: bool) -> f64 {
        let before = |time| self.lamp.map_or(1.0, |lamp| lamp.brightness(time));
        if !dark {
            return before(time);
        }
        match self.lamp {
            Some(lamp) if lamp.warm_up > 0.0 => before(self.off) * libm::exp((self.off - time) / lamp.warm_up),
            _ => 0.0,
        }
    }
}

/// The pair in SI.
#[derive(Debug, Clone)]
pub(crate) struct Pair {
    pub(crate) plates: [Plate; 2],
    /// Irradiance on each plate in the full light, W/m².
    pub(crate) full_light: [f64; 2],
    pub(crate) glow: Glow,
    pub(crate) capacity: f64,
    pub(crate) contact: f64,
    pub(crate) lag: f64,
    pub(crate) room: f64,
    pub(crate) start: f64,
}

/// What the pair is at a time: temperatures in °C, energies in J.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Moment {
    pub(crate) plates: [f64; 2],
    pub(crate) probes: [f64; 2],
    pub(crate) supplied: f64,
    pub(crate) lost: f64,
}

impl Pair {
    /// Temperatures of the plates at which nothing changes in the full light, °C.
    pub(crate) fn limits(&self) -> [f64; 2] {
        [0, 1].map(|place| self.plates[place].limit(self.full_light[place], self.room))
    }

    /// Heat stored since the start, J.
    pub(crate) fn stored(&self, moment: &Moment) -> f64 {
        self.capacity * (moment.plates[0] + moment.plates[1] - 2.0 * self.start)
    }

    /// What a probe tends to on a plate, °C.
    fn touched(&self, plate: f64) -> f64 {
        self.room + self.contact * (plate - self.room)
    }

    fn moment(&self, &[first, second, one, two, supplied, lost]: &[f64; 6]) -> Moment {
        let probes = if self.lag < NO_LAG { [self.touched(first), self.touched(second)] } else { [one, two] };
        Moment { plates: [first, second], probes, supplied, lost }
    }

    /// The pair at each of the ascending times (s). The end of the light is a kink that no step of the solver may cross, so
    /// that light and dark are solved one after the other.
    pub(crate) fn solve(&self, times: &[f64], tolerance: f64) -> Result<Vec<Moment>, BenchError> {
        ascending(times)?;
        let off = self.glow.off;
        let start = [self.start, self.start, self.touched(self.start), self.touched(self.start), 0.0, 0.0];
        let lit = times.partition_point(|&time| time <= off);
        let (before, after) = times.split_at(lit);
        let mut before = before.to_vec();
        if !after.is_empty() && before.last() != Some(&off) {
            before.push(off);
        }
        let mut states = integrate(&Phase { pair: self, dark: false }, start, &before, tolerance)?;
        let Some(&end) = states.last() else { return Ok(Vec::new()) };
        states.truncate(lit);
        if !after.is_empty() {
            let after: Vec<f64> = after.iter().map(|time| time - off).collect();
            states.extend(integrate(&Phase { pair: self, dark: true }, end, &after, tolerance)?);
        }
        Ok(states.iter().map(|state| self.moment(state)).collect())
    }
}

/// The pair in the light, or in the dark with the time since the light ended.
struct Phase<'a> {
    pair: &'a Pair,
    dark: bool,
}

impl Balances<6> for Phase<'_> {
    fn rates(&self, time: f64, &[first, second, first_probe, second_probe, ..]: &[f64; 6]) -> [f64; 6] {
        let pair = self.pair;
        let time = if self.dark { time + pair.glow.off } else { time };
        let share = pair.glow.share_in(time, self.dark);
        let [one, two] = &pair.plates;
        let gains = [one.gain(share * pair.full_light[0]), two.gain(share * pair.full_light[1])];
        let losses = [one.loss(first, pair.room), two.loss(second, pair.room)];
        let follow = |plate, probe| if pair.lag < NO_LAG { 0.0 } else { (pair.touched(plate) - probe) / pair.lag };
        [
            (gains[0] - losses[0]) / pair.capacity,
            (gains[1] - losses[1]) / pair.capacity,
            follow(first, first_probe),
            follow(second, second_probe),
            gains[0] + gains[1],
            losses[0] + losses[1],
        ]
    }
}

//! What the paraffin store does in time, piece by piece in closed form. In: a model. Out: its state at a time in s.
//! It must take every formula of heat from the model.
//!
//! On a straight stretch of the enthalpy curve the intake is linear in the enthalpy: `dE/dt = r exp(−k t)` with the intake
//! r at its start and `k = K_v / ((1 + K_v R) C)`, so that `E = E_0 + r (1 − exp(−k t)) / k`. A probe with lag τ stays behind
//! by `D = D_0 exp(−t/τ) + (r/C) (exp(−k t) − exp(−t/τ)) / (1/τ − k)`.

use super::model::{Model, Stretch};

/// A store crosses each end of melting once up and once down, and is switched off once.
const MOST_PIECES: usize = 16;

/// The state at one time.
#[derive(Debug, Clone, Copy)]
pub(in crate::bench) struct Moment {
    /// Temperature of the paraffin, °C.
    pub(in crate::bench) paraffin: f64,
    /// Temperature of the wall, °C.
    pub(in crate::bench) wall: f64,
    /// What a probe in the paraffin shows, °C.
    pub(in crate::bench) probe: f64,
    /// Molten share, 1.
    pub(in crate::bench) molten: f64,
    /// Power of the heater, W.
    pub(in crate::bench) power: f64,
    /// Heat supplied, stored and lost since the start, J.
    pub(in crate::bench) heat: [f64; 3],
}

/// A time in which nothing but the enthalpy changes.
#[derive(Debug, Clone, Copy)]
struct Piece {
    begin: f64,
    end: f64,
    power: f64,
    stretch: Stretch,
    enthalpy: f64,
    seeded: bool,
    /// By how much the probe stays behind at the beginning, K.
    behind: f64,
    supplied: f64,
    lost: f64,
}

/// All pieces of a run, in order.
#[derive(Debug)]
pub(in crate::bench) struct Path {
    model: Model,
    start: f64,
    pieces: Vec<Piece>,
}

impl Path {
    pub(in crate::bench) fn new(model: Model) -> Self {
        let start = model.enthalpy(model.start);
        let mut path = Self { model, start, pieces: Vec::new() };
        let seeded = start < model.molten() || model.supercooling <= 0.0;
        let mut next = path.piece(0.0, start, seeded, 0.0, [0.0; 2]);
        while next.end.is_finite() && path.pieces.len() < MOST_PIECES {
            path.pieces.push(next);
            next = path.after(&next);
        }
        path.pieces.push(next);
        path
    }

    /// The state at a time in s.
    pub(in crate::bench) fn at(&self, time: f64) -> Moment {
        let place = self.pieces.partition_point(|piece| piece.begin <= time).max(1) - 1;
        self.moment(&self.pieces[place], time)
    }

    /// The state at a time of a piece.
    fn moment(&self, piece: &Piece, time: f64) -> Moment {
        let model = &self.model;
        let passed = time - piece.begin;
        let (enthalpy, behind, [supplied, lost]) = self.follow(piece, passed);
        let paraffin = piece.stretch.temperature(enthalpy);
        Moment {
            paraffin,
            wall: model.wall(piece.power, paraffin),
            probe: paraffin - behind,
            molten: if piece.seeded { (enthalpy / model.molten()).clamp(0.0, 1.0) } else { 1.0 },
            power: piece.power,
            heat: [supplied, enthalpy - self.start, lost],
        }
    }

    /// The hottest that the wall gets up to a time, °C: it is hottest at the end of a piece or where the heater goes off.
    pub(in crate::bench) fn hottest(&self, until: f64) -> f64 {
        let pieces = self.pieces.iter().take_while(|piece| piece.begin <= until);
        let ends = pieces.flat_map(|piece| [piece.begin, piece.end.min(until)].map(|time| self.moment(piece, time)));
        ends.map(|moment| moment.wall.max(moment.paraffin)).fold(f64::NEG_INFINITY, f64::max)
    }

    /// Enthalpy, what the probe is behind, heat supplied and lost, some seconds into a piece.
    fn follow(&self, piece: &Piece, passed: f64) -> (f64, f64, [f64; 2]) {
        let model = &self.model;
        let begin = piece.stretch.temperature(piece.enthalpy);
        let rate = model.intake(piece.power, begin);
        let decay = model.intake_slope() * piece.stretch.steepness;
        let enthalpy = piece.enthalpy + rate * approach(decay, passed);
        let (lag, rise) = (model.probe_lag, rate * piece.stretch.steepness);
        let behind = if lag > 0.0 {
            let shift = approach(1.0 / lag - decay, passed) * libm::exp(-decay * passed);
            piece.behind * libm::exp(-passed / lag) + rise * shift
        } else {
            0.0
        };
        // Mean excess over the beginning times the time: the integral of (1 − exp(−k t)) r / (C k).
        let warmth = begin * passed + rise * ramp(decay, passed);
        let wall = (1.0 - model.resistance * model.intake_slope()) * warmth
            + model.resistance * (model.intake(piece.power, 0.0)) * passed;
        let loss = model.loss_per_kelvin * (wall - model.room * passed);
        (enthalpy, behind, [piece.supplied + piece.power * passed, piece.lost + loss])
    }

    /// The piece behind one that ends.
    fn after(&self, piece: &Piece) -> Piece {
        let (mut enthalpy, behind, heat) = self.follow(piece, piece.end - piece.begin);
        let mut seeded = piece.seeded;
        let (low, high) = piece.stretch.ends;
        let rising = self.model.intake(piece.power, piece.stretch.temperature(piece.enthalpy)) > 0.0;
        // The end of a stretch is met exactly, so that no rounding holds the store on the wrong side.
        if piece.end < self.switched_off(piece.begin) {
            enthalpy = if rising { high } else { low };
            seeded = !(rising && self.model.supercooling > 0.0 && high >= self.model.molten());
        }
        let before = piece.stretch.temperature(enthalpy);
        let mut next = self.piece(piece.end, enthalpy, seeded, behind, heat);
        if self.model.probe_lag > 0.0 {
            next.behind += next.stretch.temperature(enthalpy) - before;
        }
        next
    }

    /// When the heater goes off, if it is still on.
    fn switched_off(&self, time: f64) -> f64 {
        if time < self.model.heating_time { self.model.heating_time } else { f64::INFINITY }
    }

    fn piece(&self, begin: f64, enthalpy: f64, seeded: bool, behind: f64, [supplied, lost]: [f64; 2]) -> Piece {
        let model = &self.model;
        let off = self.switched_off(begin);
        let power = if off.is_finite() { model.power } else { 0.0 };
        let here = model.stretch(enthalpy, seeded, true).temperature(enthalpy);
        let rate = model.intake(power, here);
        let stretch = model.stretch(enthalpy, seeded, rate > 0.0);
        let (low, high) = stretch.ends;
        let decay = model.intake_slope() * stretch.steepness;
        let border = begin + duration(decay, rate, if rate > 0.0 { high } else { low } - enthalpy);
        Piece { begin, end: border.min(off), power, stretch, enthalpy, seeded, behind, supplied, lost }
    }
}

/// `(1 − exp(−k t)) / k`, which is t for k = 0, in s.
fn approach(decay: f64, passed: f64) -> f64 {
    if decay == 0.0 { passed } else { -libm::expm1(-decay * passed) / decay }
}

/// `(t − (1 − exp(−k t)) / k) / k`, which is t²/2 for k = 0, in s².
fn ramp(decay: f64, passed: f64) -> f64 {
    let turns = decay * passed;
    if turns < 1e-2 {
        // The series of (x − 1 + exp(−x)) / x²; the next term is below 1e-15.
        let series = [40320.0, 5040.0, 720.0, 120.0, 24.0, 6.0, 2.0];
        passed * passed * series.iter().fold(0.0, |sum, factorial| 1.0 / factorial - turns * sum)
    } else {
        (passed - approach(decay, passed)) / decay
    }
}

/// Seconds until the enthalpy has changed by `change`, at an intake `rate exp(−k t)`; infinite if it never does.
fn duration(decay: f64, rate: f64, change: f64) -> f64 {
    let share = if rate == 0.0 { f64::INFINITY } else { change / rate };
    if decay == 0.0 {
        share
    } else if decay * share < 1.0 {
        -libm::log1p(-decay * share) / decay
    } else {
        f64::INFINITY
    }
}

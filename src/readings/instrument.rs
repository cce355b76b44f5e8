//! An instrument: offset, noise, resolution. In: a true value. Out: what the display shows.
//! It must not know what is measured.

use rand::RngExt;
use rand_chacha::ChaCha20Rng;
use rand_distr::{Distribution, StandardNormal};

use crate::{
    draw::Seed,
    quantity::rounding::{Rounded, Step},
};

/// An instrument in the unit that it is read in.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Instrument {
    /// Step of the display.
    pub resolution: f64,
    /// Limit of error of its class.
    pub limit: f64,
    /// The part of the limit that grows with the reading, as a share.
    pub limit_share: f64,
    /// Standard deviation of repeated readings.
    pub noise: f64,
}

impl Instrument {
    /// One student's copy of the instrument: its offset is drawn once, evenly within the class limit
    /// (JCGM 100:2008, 4.3.7), and kept for all readings.
    pub fn issue(self, seed: &Seed<'_>, name: &str) -> Issued {
        let share = seed.stream(&format!("offset {name}")).random::<f64>() * 2.0 - 1.0;
        Issued { instrument: self, share, display: Step::new(self.resolution) }
    }

    /// Standard uncertainty of one reading against another of the same instrument: noise and rounding
    /// (rectangular half-step, JCGM 100:2008, F.2.2.1).
    pub fn repeatability(&self) -> f64 {
        libm::sqrt(self.noise * self.noise + self.resolution * self.resolution / 12.0)
    }
}

/// The instrument in one student's hand.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Issued {
    instrument: Instrument,
    /// Where in its class the offset lies, from −1 to 1.
    share: f64,
    display: Step,
}

impl Issued {
    /// Reads a true value, rounded to the resolution with its zeros kept.
    pub fn read(&self, truth: f64, noise: &mut ChaCha20Rng) -> Rounded {
        let instrument = &self.instrument;
        let offset = self.share * (instrument.limit + instrument.limit_share * truth.abs());
        let deviation: f64 = StandardNormal.sample(noise);
        self.display.round(truth + offset + instrument.noise * deviation)
    }
}

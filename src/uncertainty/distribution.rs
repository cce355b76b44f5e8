//! What is known of an error: how far it reaches and how likely. In: a spread. Out: its standard uncertainty.
//! It must not say where the error comes from.

/// The distribution of an error around zero.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Distribution {
    /// Normal, with this standard deviation: repeated readings.
    Normal(f64),
    /// Anywhere within this half-width, evenly: rounding, the resolution of a display, half a square.
    Rectangular(f64),
}

impl Distribution {
    /// The standard uncertainty; for a half-width a, a/√3 (JCGM 100:2008, 4.3.7).
    pub fn standard(self) -> f64 {
        match self {
            Self::Normal(deviation) => deviation,
            Self::Rectangular(half_width) => half_width / libm::sqrt(3.0),
        }
    }

    /// How far the error can reach, if there is an end to it.
    pub fn reach(self) -> Option<f64> {
        match self {
            Self::Normal(_) => None,
            Self::Rectangular(half_width) => Some(half_width),
        }
    }
}

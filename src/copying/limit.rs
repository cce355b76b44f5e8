//! How much copying may pay at most. In: a share as a teacher writes it. Out: a yes or no. It must round nothing away.

use std::{fmt, str::FromStr};

use serde::Deserialize;

use crate::quantity::rounding;

/// The largest share of a sheet's numeric marks that another's answers may earn on it.
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd, Deserialize)]
pub struct CopyLimit(f64);

/// Why a text is no share.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[error("`{0}` is no share between 0 and 100 %, such as `20%`")]
pub struct CopyLimitError(String);

impl Default for CopyLimit {
    /// A fifth.
    fn default() -> Self {
        Self(0.2)
    }
}

impl CopyLimit {
    /// The share, from 0 to 1.
    pub fn share(self) -> f64 {
        self.0
    }

    /// Whether `earned` marks of `all` are within the limit.
    pub fn allows(self, earned: u32, all: u32) -> bool {
        // A hair outwards, so that a fifth of 15 marks is 3.
        f64::from(earned) <= self.0 * f64::from(all) + 1e-9
    }
}

impl FromStr for CopyLimit {
    type Err = CopyLimitError;

    /// Reads `20%`, `20 %`, `20` (percent, from 1 on) or `0.2`.
    fn from_str(text: &str) -> Result<Self, CopyLimitError> {
        let fault = || CopyLimitError(text.to_owned());
        let bare = text.trim();
        let digits = bare.strip_suffix('%').map(str::trim_end);
        let number: f64 = digits.unwrap_or(bare).replace(',', ".").parse().map_err(|_| fault())?;
        let share = if digits.is_some() || number > 1.0 { number / 100.0 } else { number };
        if (0.0..=1.0).contains(&share) { Ok(Self(share)) } else { Err(fault()) }
    }
}

impl fmt::Display for CopyLimit {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(out, "{} %", rounding::plain(rounding::to_places(self.0 * 100.0, 4).value))
    }
}

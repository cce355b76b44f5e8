//! The code of a sheet. In: seed, experiment, student. Out: eight signs that no glance confuses. It must hold no personal data.

use std::{collections::HashSet, fmt};

use sha2::{Digest, Sha256};

/// Digits and capitals without look-alikes: 31 of them, a prime number, on which the check rests.
const SIGNS: &[u8; 31] = b"23456789ABCDEFGHJKMNPQRSTUVWXYZ";

/// The code of a sheet: seven signs and a check sign.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct Code([u8; 8]);

/// Why a text is no code.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum CodeError {
    /// Not eight signs.
    #[error("a code has eight signs, this has {0}")]
    Length(usize),
    /// A sign that no code has.
    #[error("`{0}` stands in no code")]
    Sign(char),
    /// The check sign does not fit.
    #[error("the check sign does not fit: a sign is wrong or two are swapped")]
    Check,
}

impl Code {
    /// The code of a student's sheet; `round` tells apart two students whose codes would be equal.
    pub fn new(seed: &str, experiment: &str, student: &str, round: u32) -> Self {
        let mut digest = Sha256::new();
        for part in [seed, experiment, student] {
            digest.update((part.len() as u64).to_le_bytes());
            digest.update(part);
        }
        digest.update(round.to_le_bytes());
        let hash: [u8; 32] = digest.finalize().into();
        let mut number = u64::from_le_bytes(std::array::from_fn(|at| hash[at]));
        let mut values = [0; 8];
        for value in &mut values[..7] {
            *value = (number % 31) as u8;
            number /= 31;
        }
        values[7] = check(&values);
        Self(values)
    }

    /// The codes of students whom a set has not yet, free of duplicates and the same whatever the order of the ids; `taken` are
    /// codes that the set has given out.
    pub fn for_set(seed: &str, experiment: &str, ids: &[&str], taken: &[Self]) -> Vec<Self> {
        let mut order: Vec<usize> = (0..ids.len()).collect();
        order.sort_by_key(|&index| ids[index]);
        let mut taken: HashSet<Self> = taken.iter().copied().collect();
        let mut codes = vec![Self([0; 8]); ids.len()];
        for index in order {
            let free =
                (0..).map(|round| Self::new(seed, experiment, ids[index], round)).find(|code| taken.insert(*code));
            codes[index] = free.unwrap_or(Self([0; 8]));
        }
        codes
    }

    /// Reads a code; case, spaces and the hyphen or any dash in its place do not matter.
    ///
    /// # Errors
    /// A [`CodeError`] that says what is wrong with it.
    pub fn parse(text: &str) -> Result<Self, CodeError> {
        let signs: Vec<char> = text
            .chars()
            .filter(|sign| !(sign.is_whitespace() || matches!(sign, '-' | '\u{2010}'..='\u{2015}' | '\u{2212}')))
            .collect();
        if signs.len() != 8 {
            return Err(CodeError::Length(signs.len()));
        }
        let mut values = [0; 8];
        for (value, sign) in values.iter_mut().zip(signs) {
            let upper = sign.to_ascii_uppercase();
            let found = SIGNS.iter().position(|known| char::from(*known) == upper).ok_or(CodeError::Sign(sign))?;
            *value = found as u8;
        }
        if check(&values) == values[7] { Ok(Self(values)) } else { Err(CodeError::Check) }
    }
}

/// The check sign: with it, the sum of place times value over all eight places is a multiple of 31.
///
/// A single wrong sign changes the sum by place times difference, a swap of neighbours by their difference; neither is a
/// multiple of the prime 31. Source: weighted check digits modulo a prime (the principle of ISO/IEC 7064 and of ISBN-10).
fn check(values: &[u8; 8]) -> u8 {
    let sum: u32 = values[..7].iter().zip(1..).map(|(&value, place)| place * u32::from(value)).sum();
    // 8 · c ≡ −sum (mod 31), and 4 is the inverse of 8 modulo 31.
    ((31 - sum % 31) * 4 % 31) as u8
}

impl fmt::Display for Code {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        for (place, &value) in self.0.iter().enumerate() {
            if place == 4 {
                out.write_str("-")?;
            }
            write!(out, "{}", char::from(SIGNS[usize::from(value)]))?;
        }
        Ok(())
    }
}

//! Named random streams. In: the set's seed, a student, the name of a quantity. Out: the same numbers for ever.
//! A stream must not depend on any other student or quantity.

use rand::SeedableRng;
use rand_chacha::ChaCha20Rng;
use sha2::{Digest, Sha256};

/// The seed of a set and a student in it.
#[derive(Debug, Clone, Copy)]
pub struct Seed<'a> {
    /// The seed of the whole set.
    pub set: &'a str,
    /// The student's id, or the version's name.
    pub student: &'a str,
    /// How often this student has been drawn before.
    pub attempt: u32,
}

impl Seed<'_> {
    /// The stream of a quantity: ChaCha20 (RFC 8439 block function) keyed with SHA-256 over the length-prefixed parts.
    pub fn stream(&self, name: &str) -> ChaCha20Rng {
        let mut digest = Sha256::new();
        for part in [self.set, self.student, name] {
            digest.update((part.len() as u64).to_le_bytes());
            digest.update(part);
        }
        digest.update(self.attempt.to_le_bytes());
        ChaCha20Rng::from_seed(digest.finalize().into())
    }
}

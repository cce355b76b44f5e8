//! What a member has, and the little room in which it waits. In: readings and a key. Out: the same again, as often as it is wanted.
//! It must lose nothing: a key is printed, marked and recorded from what comes out again.
//!
//! A set of thousands is drawn as a whole, but only a volume of it is at the press at a time. All others wait as bytes, which take
//! a quarter of the room.

use std::sync::Arc;

use serde::{Deserialize, Serialize};

use crate::{class::Edition, experiment::Experiment, key::Key, variant::Variant};

/// Readings with the key to one sheet.
#[derive(Debug, Clone, Serialize, Deserialize)]
pub struct Own {
    /// The readings.
    pub variant: Variant,
    /// The key.
    pub key: Key,
}

impl Own {
    /// Whether the sheet of an edition asks a task, and its readings can answer it.
    pub fn asks(&self, experiment: &Experiment, edition: Edition, task: usize) -> bool {
        experiment.tasks[task].editions.contains(&edition) && self.key.answers(task)
    }
}

/// The same, packed; those who share it share its bytes.
#[derive(Debug, Clone)]
pub struct Packed(Arc<[u8]>);

impl Packed {
    /// Packs readings and a key.
    pub fn of(variant: &Variant, key: &Key) -> Self {
        let bytes = postcard::to_stdvec(&(variant, key));
        Self(bytes.expect("numbers and texts can be packed").into())
    }

    /// What was packed.
    pub fn open(&self) -> Own {
        postcard::from_bytes(&self.0).expect("packed by this very run")
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::experiment;

    #[test]
    fn what_was_packed_comes_out_again() {
        for source in experiment::catalogue::sources() {
            let (experiment, _) = experiment::load(&source).unwrap_or_else(|_| panic!("refused"));
            let variant = crate::variant::draw(&experiment, "packed", "7").expect("drawn");
            let key = Key::build(&experiment, &variant, "7").expect("keyed");
            let own = Packed::of(&variant, &key).open();
            assert_eq!((&own.variant, &own.key.answers), (&variant, &key.answers));
            assert_eq!(own.key.known, key.known);
        }
    }
}

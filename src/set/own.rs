//! What a member has, and the little room in which it waits. In: readings and a key. Out: the same again, as often as it is wanted.
//! It must lose nothing: a key is printed, marked and recorded from what comes out again.
//!
//! A set of thousands is drawn as a whole, but only a volume of it is at the press at a time. All others wait as bytes, of which only
//! those are kept that differ from the first one's.

use std::sync::{Arc, OnceLock};

use lz4_flex::block::{compress_prepend_size_with_dict, decompress_size_prepended_with_dict};

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
pub struct Packed {
    /// What differs from what was packed first.
    bytes: Arc<[u8]>,
    /// What was packed first, as it is.
    like: Arc<[u8]>,
}

impl Packed {
    /// What was packed.
    pub fn open(&self) -> Own {
        let bytes = decompress_size_prepended_with_dict(&self.bytes, &self.like).expect("packed by this very run");
        postcard::from_bytes(&bytes).expect("packed by this very run")
    }
}

/// Packs what members have. All say much the same, the names of quantities and units above all.
#[derive(Debug, Default)]
pub struct Packer {
    /// What was packed first.
    first: OnceLock<Arc<[u8]>>,
}

impl Packer {
    /// Packs readings and a key.
    pub fn pack(&self, variant: &Variant, key: &Key) -> Packed {
        let bytes = postcard::to_stdvec(&(variant, key)).expect("numbers and texts can be packed");
        let like = self.first.get_or_init(|| bytes.as_slice().into());
        Packed { bytes: compress_prepend_size_with_dict(&bytes, like).into(), like: like.clone() }
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
            let packer = Packer::default();
            for student in ["7", "8"] {
                let variant = crate::variant::draw(&experiment, "packed", student).expect("drawn");
                let key = Key::build(&experiment, &variant, student).expect("keyed");
                let packed = packer.pack(&variant, &key);
                let own = packed.open();
                assert_eq!((&own.variant, &own.key.answers), (&variant, &key.answers));
                assert_eq!(own.key.known, key.known);
                assert!(packed.bytes.len() * 3 < packed.like.len() * 2, "{} bytes", packed.bytes.len());
            }
        }
    }
}

//! Parts of a unit in the form in which they are stored away. In: exact exponents, shared symbols. Out: serde's pairs and lists, and
//! the same back. It must lose nothing.

use serde::{Deserialize, Deserializer, Serialize, Serializer, de::Error};

use super::Exponent;

/// An exponent as numerator and denominator.
pub(super) mod exponent {
    use super::*;

    pub(in crate::quantity) fn serialize<S: Serializer>(own: &Exponent, to: S) -> Result<S::Ok, S::Error> {
        (own.numer(), own.denom()).serialize(to)
    }

    pub(in crate::quantity) fn deserialize<'de, D: Deserializer<'de>>(from: D) -> Result<Exponent, D::Error> {
        let (numer, denom): (i32, i32) = Deserialize::deserialize(from)?;
        if denom > 0 { Ok(Exponent::new_raw(numer, denom)) } else { Err(D::Error::custom("a fraction of nothing")) }
    }
}

/// The exponents of a dimension.
pub(super) mod exponents {
    use super::*;

    #[derive(Serialize, Deserialize)]
    struct One(#[serde(with = "super::exponent")] Exponent);

    pub(in crate::quantity) fn serialize<S: Serializer>(own: &[Exponent; 7], to: S) -> Result<S::Ok, S::Error> {
        own.map(One).serialize(to)
    }

    pub(in crate::quantity) fn deserialize<'de, D: Deserializer<'de>>(from: D) -> Result<[Exponent; 7], D::Error> {
        <[One; 7]>::deserialize(from).map(|all| all.map(|One(exponent)| exponent))
    }
}

/// A shared list.
pub(super) mod list {
    use std::sync::Arc;

    use super::*;

    pub(in crate::quantity) fn serialize<T: Serialize, S: Serializer>(
        own: &Arc<[T]>,
        to: S,
    ) -> Result<S::Ok, S::Error> {
        own.as_ref().serialize(to)
    }

    pub(in crate::quantity) fn deserialize<'de, T: Deserialize<'de>, D: Deserializer<'de>>(
        from: D,
    ) -> Result<Arc<[T]>, D::Error> {
        Vec::deserialize(from).map(Arc::from)
    }
}

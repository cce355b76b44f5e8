//! What a part of a formula is: dimension, temperature or not, number or column.
//! In: nothing but units. Out: types that can be compared. It must hold no values.

use serde::{Deserialize, Serialize};

use crate::quantity::{Dimension, Kind};

/// Whether a value is one number or a column of readings.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
pub enum Shape {
    /// One number.
    Scalar,
    /// A number for each row of the table.
    Column,
}

/// The type of a value in a formula.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Type {
    /// Exponents of the base quantities.
    pub dimension: Dimension,
    /// A temperature on a scale, or anything else.
    pub kind: Kind,
    /// One number or a column.
    pub shape: Shape,
}

impl Type {
    /// A plain scalar of a dimension.
    pub fn scalar(dimension: Dimension) -> Self {
        Self { dimension, kind: Kind::Plain, shape: Shape::Scalar }
    }

    /// The same type as a column or scalar.
    #[must_use]
    pub fn shaped(self, shape: Shape) -> Self {
        Self { shape, ..self }
    }

    /// The same type, no longer a point on a temperature scale.
    #[must_use]
    pub fn plain(self) -> Self {
        Self { kind: Kind::Plain, ..self }
    }

    /// Words for a message, such as `a temperature`, `kg·m²·s⁻²`.
    pub fn words(&self) -> String {
        match self.kind {
            Kind::Point => "a temperature".to_owned(),
            Kind::Plain if self.dimension.is_one() => "a plain number".to_owned(),
            Kind::Plain => crate::quantity::familiar(self.dimension),
        }
    }
}

/// Why a name has no type.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Absence {
    /// Nobody gives it.
    Unknown,
    /// Its own definition is at fault: one message is enough.
    Faulty,
    /// It is the answer of a later task.
    Later,
    /// It is the answer that the formula is for.
    Own,
    /// It is a task that is not answered by numbers.
    Wordless,
}

/// What names mean where a formula stands.
pub trait Scope {
    /// The type of a name, if it is known here.
    fn type_of(&self, name: &str) -> Option<Type>;

    /// Why a name has no type.
    fn absence(&self, _name: &str) -> Absence {
        Absence::Unknown
    }

    /// All names known here, for hints.
    fn names(&self) -> Vec<&str>;
}

//! A number with its unit, as an author writes it. In: `250 g`. Out: value, unit, decimals. It must not convert.

use std::{borrow::Cow, ops::Range, str::FromStr};

use schemars::{JsonSchema, Schema, SchemaGenerator, json_schema};
use serde::{Deserialize, Deserializer, de::Error};

use super::{Dimension, Notation, Unit, rounding, slip};

/// A number with its unit.
#[derive(Debug, Clone, PartialEq)]
pub struct Quantity {
    /// The number, in `unit`.
    pub value: f64,
    /// The unit.
    pub unit: Unit,
    /// The number as plain decimal text, its zeros kept.
    pub text: String,
}

/// Why a text is no quantity.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[error("{message}")]
pub struct QuantityError {
    /// What was found.
    pub message: String,
    /// How to mend it.
    pub hint: Option<String>,
    /// Bytes of the text.
    pub span: Range<usize>,
}

impl Quantity {
    /// The word for this writing in a JSON Schema.
    pub(crate) const FORMAT: &str = "quantity";

    /// The value in SI.
    pub fn si(&self) -> f64 {
        self.unit.to_si(self.value)
    }

    /// Its dimension.
    pub fn dimension(&self) -> Dimension {
        self.unit.dimension()
    }

    /// Decimals as written.
    pub fn places(&self) -> usize {
        rounding::places(&self.text)
    }

    /// The number as somebody reads it, with its unit.
    pub fn print(&self, notation: &Notation) -> String {
        notation.quantity(&self.text, &self.unit)
    }
}

impl FromStr for Quantity {
    type Err = QuantityError;

    fn from_str(text: &str) -> Result<Self, QuantityError> {
        let start = text.len() - text.trim_start().len();
        let end = text[start..]
            .find(|sign: char| !(sign.is_ascii_digit() || matches!(sign, '.' | '-' | '+' | 'e' | 'E')))
            .map_or(text.len(), |at| start + at);
        // An `e` that belongs to the unit, as in `5 eV`, stands behind a space; `5eV` is not a number.
        let number = &text[start..end];
        let value: f64 = number.parse().map_err(|_| slip::no_number(text))?;
        if !value.is_finite() {
            let hint = Some("write a smaller number".to_owned());
            return Err(QuantityError { message: format!("`{number}` is too large"), hint, span: start..end });
        }
        if let Some(error) = slip::behind(text, end) {
            return Err(error);
        }
        let unit = Unit::parse(&text[end..]).map_err(|error| QuantityError {
            message: error.message,
            hint: error.hint,
            span: end + error.span.start..end + error.span.end,
        })?;
        Ok(Self { value, unit, text: number.trim_start_matches('+').to_owned() })
    }
}

impl<'de> Deserialize<'de> for Quantity {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        #[derive(Deserialize)]
        #[serde(untagged)]
        enum Either {
            Number(serde_yaml::Number),
            Text(String),
        }
        let text = match Either::deserialize(deserializer)? {
            Either::Number(number) => number.to_string(),
            Either::Text(text) => text,
        };
        text.parse().map_err(|error: QuantityError| D::Error::custom(error.message))
    }
}

impl JsonSchema for Quantity {
    fn schema_name() -> Cow<'static, str> {
        "Quantity".into()
    }

    fn json_schema(_: &mut SchemaGenerator) -> Schema {
        json_schema!({
            "type": ["string", "number"],
            "format": Self::FORMAT,
            "description": "A number with its unit, such as `250 g` or `4.18 kJ/(kg K)`; a plain number has none."
        })
    }
}

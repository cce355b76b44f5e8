//! A number with its unit, as an author writes it. In: `250 g`. Out: value, unit, decimals. It must not convert.

use std::{borrow::Cow, fmt, ops::Range, str::FromStr};

use schemars::{JsonSchema, Schema, SchemaGenerator, json_schema};
use serde::{Deserialize, Deserializer, Serialize, Serializer, de::Error};

use super::{
    Dimension, Notation, Unit,
    reading::{MINUS, power_of_ten},
    rounding, slip,
};

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

const EXAMPLE: &str = "write a number and a unit, such as `250 g`";

/// A hint for a text that does not begin with a number: the number in it, if there is one, goes first.
fn number_first(text: &str) -> String {
    match text.find(|sign: char| sign.is_ascii_digit()) {
        Some(at) if at > 0 => format!("write the number first and the unit behind it: `{}`", text[at..].trim()),
        _ => EXAMPLE.to_owned(),
    }
}

impl FromStr for Quantity {
    type Err = QuantityError;

    /// Reads `250 g`, `0.90`, `4.18 kJ/(kg K)`, `-5 °C`, `1.2e3 W`, `1.2·10^3 W`: a decimal point, no groups of digits.
    fn from_str(text: &str) -> Result<Self, QuantityError> {
        let start = text.len() - text.trim_start().len();
        let fail = |message: String, hint: String, span| QuantityError { message, hint: Some(hint), span };
        let Some((number, end)) = plain_number(text, start) else {
            return Err(fail(format!("`{text}` is no quantity"), number_first(text), 0..text.len()));
        };
        let behind = text[end..].trim_start();
        let digits = |rest: &str| rest.chars().take_while(char::is_ascii_digit).count();
        if let Some(decimals) = behind.strip_prefix(',').map(digits).filter(|&count| count > 0) {
            let span = start..text.len() - behind.len() + 1 + decimals;
            let (pointed, joined) = (text[span.clone()].replace(',', "."), text[span.clone()].replace(',', ""));
            let hint = match decimals {
                3 => format!("write `{pointed}`, or without a sign between thousands `{joined}`"),
                _ => format!("write a decimal point: `{pointed}`"),
            };
            return Err(fail(format!("a decimal comma in `{}`", &text[span.clone()]), hint, span));
        }
        // `1` may begin a unit, as in `5 1/K`.
        if digits(behind) > 0 && Unit::parse(behind).is_err() {
            let span = start..text.len() - behind.len() + digits(behind);
            let joined: String = text[span.clone()].split_whitespace().collect();
            let hint = format!("write it without a space: `{joined}`");
            return Err(fail(format!("two numbers in `{text}`"), hint, span));
        }
        let value: f64 = number.parse().unwrap_or(f64::NAN);
        if !value.is_finite() {
            let message = format!("`{}` is too large", &text[start..end]);
            return Err(fail(message, "write a smaller number".to_owned(), start..end));
        }
        if let Some(error) = slip::behind(text, end) {
            return Err(error);
        }
        let unit = Unit::parse(&text[end..]).map_err(|error| QuantityError {
            message: error.message,
            hint: error.hint,
            span: end + error.span.start..end + error.span.end,
        })?;
        Ok(Self { value, unit, text: number })
    }
}

/// The number at the start of a text as plain decimal text, and where it ends.
fn plain_number(text: &str, start: usize) -> Option<(String, usize)> {
    let body = &text[start..];
    let (sign, unsigned) = match body.strip_prefix(MINUS) {
        Some(unsigned) => ("-", unsigned),
        None => ("", body.strip_prefix('+').unwrap_or(body)),
    };
    let mantissa = unsigned.find(|sign: char| !(sign.is_ascii_digit() || sign == '.')).unwrap_or(unsigned.len());
    let (mantissa, rest) = unsigned.split_at(mantissa);
    let (whole, decimals) = mantissa.split_once('.').unwrap_or((mantissa, ""));
    if mantissa.len() == mantissa.matches('.').count() || decimals.contains('.') {
        return None;
    }
    let whole = if whole.is_empty() { "0" } else { whole };
    let point = if decimals.is_empty() { "" } else { "." };
    let (power, rest) = match power_of_ten(rest) {
        Some((power, behind)) => (format!("e{power}"), behind),
        None => (String::new(), rest),
    };
    Some((format!("{sign}{whole}{point}{decimals}{power}"), text.len() - rest.len()))
}

impl fmt::Display for Quantity {
    /// The quantity as [`FromStr`] reads it, such as `250 g`.
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self.unit.print().as_str() {
            "" => out.write_str(&self.text),
            unit => write!(out, "{} {unit}", self.text),
        }
    }
}

impl Serialize for Quantity {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.collect_str(self)
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

//! A unit as somebody wrote it. In: text. Out: conversion to SI, and print in ISO 80000-1 style.
//! It must never change the unit that the author chose.

use std::sync::Arc;

use serde::{Deserialize, Serialize};

use super::{
    Dimension, Exponent, UnitError, UnitFault,
    catalogue::{self, CELSIUS_ZERO},
    dimension::raised,
    stored, unit_text,
};

/// A temperature on a scale, or anything else.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize)]
pub enum Kind {
    /// Any quantity, a difference of temperatures among them.
    Plain,
    /// A temperature on a scale with a zero of its own.
    Point,
}

/// One symbol of a unit with its exponent.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub(crate) struct Factor {
    pub(crate) symbol: String,
    #[serde(with = "stored::exponent")]
    pub(crate) exponent: Exponent,
}

/// A unit.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Unit {
    /// Shared: every printed number has a unit of its own.
    #[serde(with = "stored::list")]
    factors: Arc<[Factor]>,
    dimension: Dimension,
    factor: f64,
    offset: f64,
    kind: Kind,
}

impl Unit {
    /// The unit of a plain number.
    pub fn one() -> Self {
        Self { factors: Arc::default(), dimension: Dimension::ONE, factor: 1.0, offset: 0.0, kind: Kind::Plain }
    }

    /// The unit in which differences of what this one measures are given: kelvins for temperatures on a scale.
    pub fn of_differences(&self) -> Self {
        if self.kind == Kind::Plain {
            return self.clone();
        }
        let factors = Arc::from([Factor { symbol: "K".to_owned(), exponent: Exponent::from(1) }]);
        Self { factors, offset: 0.0, kind: Kind::Plain, ..*self }
    }

    /// Reads a unit such as `kJ/(kg K)`, `W/m²`, `m^2`, `kg·m·s^-2`, `%`, `°C`; nothing and `1` mean a plain number.
    ///
    /// # Errors
    /// A [`UnitError`] with the place of the part that is no unit.
    pub fn parse(text: &str) -> Result<Self, UnitError> {
        let (mut unit, mut factors) = (Self::one(), Vec::new());
        let parts = unit_text::split(text)?;
        for part in &parts {
            let symbol = &text[part.symbol.clone()];
            let Some((row, prefix)) = catalogue::find(symbol) else {
                return Err(UnitError::unknown(symbol, part.symbol.clone()));
            };
            if row.kind == Kind::Point {
                if parts.len() > 1 || part.exponent != Exponent::from(1) {
                    let span = part.symbol.clone();
                    let error = UnitError::new(UnitFault::ScaleInCompound, span, "`°C` inside a compound unit");
                    return Err(error.hint("write `K`: a compound counts temperature differences"));
                }
                (unit.offset, unit.kind) = (CELSIUS_ZERO, Kind::Point);
            }
            unit.dimension = unit.dimension * row.dimension.pow(part.exponent);
            unit.factor *= power(row.factor * prefix, part.exponent);
            if part.exponent != Exponent::from(0) {
                factors.push(Factor { symbol: symbol.to_owned(), exponent: part.exponent });
            }
        }
        if !unit.factor.is_normal() {
            let error = UnitError::new(UnitFault::Size, 0..text.len(), format!("`{text}` is beyond all numbers"));
            return Err(error.hint("write a smaller power"));
        }
        Ok(Self { factors: factors.into(), ..unit })
    }

    /// Its dimension.
    pub fn dimension(&self) -> Dimension {
        self.dimension
    }

    /// Whether it is a scale of temperature.
    pub fn kind(&self) -> Kind {
        self.kind
    }

    /// A value in this unit, in SI.
    pub fn to_si(&self, value: f64) -> f64 {
        value * self.factor + self.offset
    }

    /// A value in SI, in this unit.
    pub fn from_si(&self, value: f64) -> f64 {
        (value - self.offset) / self.factor
    }

    /// The size of a difference: SI per this unit, the zero of a scale left out.
    pub fn scale(&self) -> f64 {
        self.factor
    }

    /// The unit as ISO 80000-1, 7.2 writes it: `kJ/(kg·K)`, `W/m²`, `s⁻¹`; nothing for a plain number.
    pub fn print(&self) -> String {
        let zero = Exponent::from(0);
        let list = |wanted: bool| -> Vec<String> {
            let chosen = self.factors.iter().filter(|factor| (factor.exponent > zero) == wanted);
            chosen
                .map(|factor| {
                    let exponent = if wanted { factor.exponent } else { -factor.exponent };
                    format!("{}{}", pretty(&factor.symbol), raised(exponent))
                })
                .collect()
        };
        let (above, below) = (list(true), list(false));
        match (above.is_empty(), below.as_slice()) {
            (_, []) => above.join("·"),
            (true, _) => {
                let all = self.factors.iter().map(|part| format!("{}{}", pretty(&part.symbol), raised(part.exponent)));
                all.collect::<Vec<_>>().join("·")
            }
            (false, [one]) => format!("{}/{one}", above.join("·")),
            (false, many) => format!("{}/({})", above.join("·"), many.join("·")),
        }
    }
}

/// Symbols that have a nearer sign than the keyboard's.
fn pretty(symbol: &str) -> String {
    match symbol {
        "deg" => "°".to_owned(),
        "rpm" => "min⁻¹".to_owned(),
        _ => match symbol.strip_suffix("ohm") {
            Some(prefix) => format!("{}Ω", prefix.replace('u', "µ")),
            None if symbol.len() > 1 && symbol.starts_with('u') => symbol.replacen('u', "µ", 1),
            None => symbol.replace('μ', "µ").replace('\u{2126}', "Ω"),
        },
    }
}

fn power(base: f64, exponent: Exponent) -> f64 {
    if exponent.is_integer() {
        let whole = exponent.to_integer();
        let grown = (0..whole.unsigned_abs()).fold(1.0, |product, _| product * base);
        if whole < 0 { 1.0 / grown } else { grown }
    } else {
        libm::pow(base, f64::from(*exponent.numer()) / f64::from(*exponent.denom()))
    }
}

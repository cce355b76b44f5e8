//! The writing of units. In: text. Out: symbols with exponents and places. It must not ask what a symbol means.

use std::ops::Range;

use super::{
    Exponent,
    catalogue::{PREFIXES, UNITS},
};

/// Why a text is no unit.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[error("{message}")]
pub struct UnitError {
    /// What was found.
    pub message: String,
    /// How to mend it.
    pub hint: Option<String>,
    /// Bytes of the text.
    pub span: Range<usize>,
}

impl UnitError {
    pub(crate) fn new(span: Range<usize>, message: impl Into<String>) -> Self {
        Self { message: message.into(), hint: None, span }
    }

    pub(crate) fn hint(mut self, hint: impl Into<String>) -> Self {
        self.hint = Some(hint.into());
        self
    }
}

/// A symbol with its exponent and its place.
#[derive(Debug)]
pub(super) struct Part {
    pub(super) symbol: Range<usize>,
    pub(super) exponent: Exponent,
}

pub(super) fn unknown(symbol: &str, span: Range<usize>) -> UnitError {
    let error = UnitError::new(span, format!("unknown unit `{symbol}`"));
    let plain = UNITS.iter().map(|row| row.symbol.to_owned());
    let prefixed = UNITS
        .iter()
        .filter(|row| row.prefixes)
        .flat_map(|row| PREFIXES.iter().map(move |(prefix, _)| format!("{prefix}{}", row.symbol)));
    let known: Vec<String> = plain.chain(prefixed).collect();
    let word = symbol.to_lowercase();
    if let Some((meant, _)) = WORDS.iter().find(|(_, words)| words.contains(&word.as_str())) {
        return error.hint(format!("write `{meant}`"));
    }
    match crate::report::nearest(symbol, known.iter().map(String::as_str)) {
        Some(near) => error.hint(format!("did you mean `{near}`?")),
        None => error.hint("units are written by their symbols, such as `W/(m2 K)`"),
    }
}

/// Words that are written in place of a symbol, in lower case.
static WORDS: &[(&str, &[&str])] = &[
    ("s", &["sec", "secs", "second", "seconds", "sek", "sekunde", "sekunden"]),
    ("min", &["mins", "minute", "minutes", "minuten"]),
    ("h", &["hr", "hrs", "hour", "hours", "std", "stunde", "stunden"]),
    ("°C", &["degc", "ºc", "c°", "celsius", "grad", "degrees"]),
    ("K", &["kelvin", "kelvins", "°k", "degk"]),
    ("g", &["gram", "grams", "gramme", "gramm", "gr"]),
    ("kg", &["kilo", "kilogram", "kilograms", "kilogramm", "kgs"]),
    ("m2", &["qm", "sqm"]),
    ("cm2", &["qcm", "sqcm"]),
    ("m3", &["cbm"]),
    ("m", &["meter", "meters", "metre", "metres"]),
    ("J", &["joule", "joules"]),
    ("W", &["watt", "watts"]),
    ("V", &["volt", "volts"]),
    ("A", &["amp", "amps", "ampere", "amperes"]),
    ("L", &["liter", "liters", "litre", "litres", "ltr"]),
    ("%", &["percent", "prozent", "pct"]),
];

/// Splits a unit into symbols with exponents.
pub(super) fn split(text: &str) -> Result<Vec<Part>, UnitError> {
    let mut reader = Reader { text, at: 0, parts: Vec::new() };
    if text.trim().is_empty() || text.trim() == "1" {
        return Ok(Vec::new());
    }
    if let Some(at) = text.find("° C") {
        return Err(UnitError::new(at..at + "° C".len(), "a gap in `°C`").hint("write `°C`"));
    }
    reader.product(false)?;
    let mut quotients = 0;
    while reader.skip_blanks() && reader.eat('/') {
        quotients += 1;
        if quotients > 1 {
            let hint = bracketed(text).unwrap_or_else(|| "write what is below in brackets: `W/(m2 K)`".to_owned());
            return Err(UnitError::new(reader.at - 1..reader.at, "a second `/` in a unit").hint(hint));
        }
        reader.skip_blanks();
        if reader.eat('(') {
            reader.product(true)?;
            reader.skip_blanks();
            if !reader.eat(')') {
                let open = text.find('(').unwrap_or(reader.at);
                return Err(UnitError::new(open..open + 1, "a bracket in a unit is not closed")
                    .hint(format!("write `{})`", text.trim())));
            }
        } else {
            reader.factor(true)?;
        }
    }
    reader.skip_blanks();
    match reader.peek() {
        None => Ok(reader.parts),
        Some(sign) => {
            let span = reader.at..reader.at + sign.len_utf8();
            let hint = match (is_letter(sign), sign.is_ascii_digit()) {
                (true, _) if quotients > 0 => bracketed(text),
                _ if sign == '±' => Some("write the value alone: errors belong to instruments".to_owned()),
                (_, true) => Some("write one number with one unit, such as `750 s` for 12 min 30 s".to_owned()),
                _ => None,
            };
            Err(UnitError::new(span, format!("found `{sign}` in a unit")).hint(hint.unwrap_or_else(|| {
                "write symbols with a space or `·` between them, one `/`, and powers such as `m2`".to_owned()
            })))
        }
    }
}

/// The unit with everything below its first `/` in one pair of brackets, as ISO 80000-1, 7.2.3 asks for.
fn bracketed(text: &str) -> Option<String> {
    let (above, below) = text.split_once('/').filter(|(_, below)| !below.contains(['(', ')']))?;
    let below: Vec<&str> = below.split(['/', ' ', '·', '*']).filter(|part| !part.is_empty()).collect();
    Some(format!("write what is below in brackets: `{}/({})`", above.trim(), below.join(" ")))
}

struct Reader<'a> {
    text: &'a str,
    at: usize,
    parts: Vec<Part>,
}

impl Reader<'_> {
    fn peek(&self) -> Option<char> {
        self.text[self.at..].chars().next()
    }

    fn eat(&mut self, wanted: char) -> bool {
        let found = self.peek() == Some(wanted);
        if found {
            self.at += wanted.len_utf8();
        }
        found
    }

    fn skip_blanks(&mut self) -> bool {
        while let Some(sign) = self.peek().filter(|&sign| sign.is_whitespace() || matches!(sign, '·' | '⋅' | '*' | '.'))
        {
            self.at += sign.len_utf8();
        }
        true
    }

    fn product(&mut self, below: bool) -> Result<(), UnitError> {
        self.skip_blanks();
        if !below && self.text[self.at..].starts_with("1/") {
            self.at += 1;
            return Ok(());
        }
        self.factor(below)?;
        while self.skip_blanks() && self.peek().is_some_and(is_letter) {
            self.factor(below)?;
        }
        Ok(())
    }

    fn factor(&mut self, below: bool) -> Result<(), UnitError> {
        let start = self.at;
        while let Some(sign) = self.peek().filter(|&sign| is_letter(sign)) {
            self.at += sign.len_utf8();
        }
        if self.at == start {
            let end = start + self.peek().map_or(0, char::len_utf8);
            return Err(UnitError::new(start..end, "a unit's symbol is missing").hint("write units such as `W/(m2 K)`"));
        }
        let symbol = start..self.at;
        let exponent = self.exponent()?;
        self.parts.push(Part { symbol, exponent: if below { -exponent } else { exponent } });
        Ok(())
    }

    fn exponent(&mut self) -> Result<Exponent, UnitError> {
        let start = self.at;
        let caret = self.eat('^');
        let bracket = caret && self.eat('(');
        let mut digits = String::new();
        let mut slash = false;
        while let Some(sign) = self.peek() {
            let plain = match sign {
                '0'..='9' => sign,
                '-' | '−' | '⁻' if digits.is_empty() => '-',
                '/' if bracket && !slash => {
                    slash = true;
                    '/'
                }
                _ => match "⁰¹²³⁴⁵⁶⁷⁸⁹".chars().position(|raised| raised == sign) {
                    Some(digit) => char::from(b'0' + digit as u8),
                    None => break,
                },
            };
            digits.push(plain);
            self.at += sign.len_utf8();
        }
        let closed = !bracket || self.eat(')');
        if digits.is_empty() && !caret {
            return Ok(Exponent::from(1));
        }
        let (top, bottom) = digits.split_once('/').unwrap_or((&digits, "1"));
        match (top.parse::<i32>(), bottom.parse::<i32>()) {
            (Ok(top), Ok(bottom)) if closed && bottom != 0 && top.abs() < 100 => Ok(Exponent::new(top, bottom)),
            _ => Err(UnitError::new(start..self.at, "a power in a unit can not be read")
                .hint("write powers such as `m2`, `m^2`, `s^-1` or `m^(1/2)`")),
        }
    }
}

fn is_letter(sign: char) -> bool {
    sign.is_alphabetic() || matches!(sign, '°' | '%' | '‰' | 'µ' | 'º')
}

//! The writing of units. In: text. Out: symbols with exponents and places. It must not ask what a symbol means.

use std::ops::Range;

use super::{Exponent, UnitError, UnitFault};

/// A symbol with its exponent and its place.
#[derive(Debug)]
pub(super) struct Part {
    pub(super) symbol: Range<usize>,
    pub(super) exponent: Exponent,
}

/// Splits a unit into symbols with exponents; the full stop of a sentence behind it is left out.
pub(super) fn split(text: &str) -> Result<Vec<Part>, UnitError> {
    let text = text.trim_end().trim_end_matches('.');
    if let Some(at) = text.find("° C") {
        let span = at..at + "° C".len();
        return Err(UnitError::new(UnitFault::Writing, span, "a gap in `°C`").hint("write `°C`"));
    }
    let mut reader = Reader { text, at: 0, parts: Vec::new() };
    reader.skip(char::is_whitespace);
    reader.one();
    reader.skip(char::is_whitespace);
    if reader.peek().is_none() {
        return Ok(Vec::new());
    }
    if reader.peek() != Some('/') {
        reader.group(false)?;
    }
    let before = reader.at;
    if reader.eat('/') {
        reader.skip(char::is_whitespace);
        reader.group(true)?;
    }
    match reader.peek() {
        None => Ok(reader.parts),
        Some(sign) => Err(reader.surplus(sign, before)),
    }
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

    fn skip(&mut self, wanted: impl Fn(char) -> bool) {
        while let Some(sign) = self.peek().filter(|&sign| wanted(sign)) {
            self.at += sign.len_utf8();
        }
    }

    /// The numerator of `1/K`, or the whole of `1`.
    fn one(&mut self) {
        let behind = self.text[self.at..].strip_prefix('1').map(str::trim_start);
        if behind.is_some_and(|behind| behind.is_empty() || behind.starts_with('/')) {
            self.at += 1;
        }
    }

    /// A product, in brackets or, above the stroke, without; below it one symbol needs none.
    fn group(&mut self, below: bool) -> Result<(), UnitError> {
        let start = self.at;
        let bracket = self.eat('(');
        self.factor(below)?;
        if bracket || !below {
            self.more(below)?;
        }
        if bracket && !self.eat(')') {
            let error = UnitError::new(UnitFault::Bracket, self.at..self.at, "a bracket in a unit is not closed");
            return Err(error.hint(format!("write a `)` behind `{}`", &self.text[start..self.at])));
        }
        self.skip(char::is_whitespace);
        Ok(())
    }

    /// The further factors of a product.
    fn more(&mut self, below: bool) -> Result<(), UnitError> {
        loop {
            let end = self.at;
            self.skip(is_times);
            match self.peek() {
                Some(sign) if is_letter(sign) => self.factor(below)?,
                _ if self.text[end..self.at].trim().is_empty() => return Ok(()),
                _ => return Err(self.missing()),
            }
        }
    }

    fn factor(&mut self, below: bool) -> Result<(), UnitError> {
        self.skip(char::is_whitespace);
        let start = self.at;
        self.skip(is_letter);
        if self.at == start {
            return Err(self.missing());
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
        while let Some(sign) = self.peek() {
            let plain = match sign {
                '-' | '−' | '⁻' if digits.is_empty() => '-',
                '/' if bracket && !digits.contains('/') => '/',
                _ => match digit(sign) {
                    Some(digit) => digit,
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
            (Ok(top @ -99..=99), Ok(bottom @ 1..=12)) if closed => Ok(Exponent::new(top, bottom)),
            _ => {
                let error = UnitError::new(UnitFault::Power, start..self.at, "a power in a unit can not be read");
                Err(error.hint("write powers such as `m2`, `m^2`, `s^-1` or `m^(1/2)`"))
            }
        }
    }

    fn missing(&self) -> UnitError {
        let end = self.at + self.peek().map_or(0, char::len_utf8);
        let error = UnitError::new(UnitFault::Writing, self.at..end, "a unit's symbol is missing");
        error.hint("write units such as `W/(m2 K)`")
    }

    /// What follows a complete unit; `before` is the end of what stands above its stroke.
    fn surplus(&self, sign: char, before: usize) -> UnitError {
        let below = &self.text[before..self.at];
        let span = self.at..self.at + sign.len_utf8();
        if below.is_empty() || !(sign == '/' || is_times(sign) || is_letter(sign)) {
            let error = UnitError::new(UnitFault::Writing, span, format!("found `{sign}` in a unit"));
            return error.hint(match sign {
                '±' => "write the value alone: errors belong to instruments",
                '0'..='9' => "write one number with one unit, such as `750 s` for 12 min 30 s",
                _ => "write symbols with a space or `·` between them, one `/`, and powers such as `m2`",
            });
        }
        let message = if sign == '/' { "a second `/` in a unit" } else { "a product behind `/` has two readings" };
        let rest = self.text[before..].replace('/', " ");
        let mended = rest.split_whitespace().collect::<Vec<_>>().join(" ");
        let hint = if mended.contains(['(', ')']) {
            "ISO 80000-1 asks for brackets: write `W/(m2 K)`, not `W/m2/K`".to_owned()
        } else {
            format!("ISO 80000-1 asks for brackets: write `{}/({mended})`", self.text[..before].trim())
        };
        UnitError::new(UnitFault::Quotient, span, message).hint(hint)
    }
}

fn is_letter(sign: char) -> bool {
    sign.is_alphabetic() || matches!(sign, '°' | '%' | '‰' | 'µ' | 'º' | '℃')
}

fn is_times(sign: char) -> bool {
    sign.is_whitespace() || matches!(sign, '·' | '⋅' | '*' | '.')
}

/// A digit, plain or raised, as a plain one.
pub(super) fn digit(sign: char) -> Option<char> {
    let raised = || "⁰¹²³⁴⁵⁶⁷⁸⁹".chars().position(|raised| raised == sign);
    if sign.is_ascii_digit() { Some(sign) } else { raised().map(|digit| char::from(b'0' + digit as u8)) }
}

//! An accepted range in words. In: a number's answer. Out: text. It must not change the range.

use crate::{key::Number, language::Language};

/// The accepted range without its unit, such as `11.0 … 11.4`.
pub fn accepted(number: &Number, language: &Language) -> String {
    let (from, to) = &number.accept;
    format!("{} … {}", language.notation.number(&from.text), language.notation.number(&to.text))
}

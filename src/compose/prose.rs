//! Texts with quantities in them. In: an author's text. Out: running text with symbols and values.
//! It must not change the author's words, only the spaces where no line may end.

use super::Facts;
use crate::{
    experiment::{
        Text,
        prose::{Piece, split},
    },
    formula::{Math, working::Notes},
    quantity::Unit,
    sheet::{Rich, Run},
};

/// An author's text as running text in the reader's language.
pub(super) fn prose(facts: &Facts<'_>, text: &Text) -> Rich {
    let text = &*text.printed_in(facts.language);
    let Ok(pieces) = split(text) else { return vec![Run::from(text)] };
    pieces
        .into_iter()
        .map(|piece| match piece {
            Piece::Words(words) => Run::Text(together(words)),
            Piece::Symbol(name, _) => facts.symbol(name).map_or_else(|| Run::from(name), Run::from),
            Piece::Value(name, _) => {
                // What a real run has not noted yet is named by its symbol.
                let value = facts.number(name).map(|text| Run::from(Math::quoted(&text)));
                value.or_else(|| facts.symbol(name).map(Run::from)).unwrap_or_else(|| Run::from(name))
            }
        })
        .collect()
}

/// A text with a capital in front.
pub(super) fn capital(text: &str) -> String {
    let mut signs = text.chars();
    signs.next().map(|first| first.to_uppercase().chain(signs).collect()).unwrap_or_default()
}

/// A number and its unit stay on one line (ISO 80000-1, 7.1.4 sets a space between them).
fn together(words: &str) -> String {
    let is_unit = |word: &str| {
        let bare = word.trim_end_matches(['.', ',', ';', ':', '?', '!', ')']);
        Unit::parse(bare).is_ok_and(|unit| unit != Unit::one())
    };
    let mut parts = words.split(' ');
    let mut text = parts.next().unwrap_or_default().to_owned();
    for part in parts {
        let number = text.ends_with(|last: char| last.is_ascii_digit());
        text.push(if number && is_unit(part) { '\u{202F}' } else { ' ' });
        text.push_str(part);
    }
    text
}

/// A table head or axis title: quantity over unit (ISO 80000-1, 7.1.4).
pub(super) fn over_unit(symbol: Math, unit: &str) -> Rich {
    if unit.is_empty() {
        return vec![symbol.into()];
    }
    // A quotient of units stands in brackets behind the stroke (ISO 80000-1, 7.1.4).
    let unit = if unit.contains(['/', '·']) { format!("({unit})") } else { unit.to_owned() };
    vec![symbol.into(), Run::Text(format!(" / {unit}"))]
}

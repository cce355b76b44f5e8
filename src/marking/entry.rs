//! What a cell of the form says. In: a cell's text. Out: a number with its unit, points, or nothing. It must never guess:
//! what has no sure meaning is an error that says what was expected.

use crate::{
    quantity::Notation,
    quantity::{NumberError, Unit, rounding},
};

/// A cell of the form.
#[derive(Debug, Clone, PartialEq)]
pub enum Entry {
    /// No answer.
    Blank,
    /// The edition of the sheet lacks the task.
    Outside,
    /// A number.
    Number(Typed),
    /// Points of a rubric.
    Points(u32),
}

/// A number as somebody typed it.
#[derive(Debug, Clone, PartialEq)]
pub struct Typed {
    /// The text.
    pub text: String,
    /// Its number.
    pub value: f64,
    /// The number where the sign in it was meant otherwise, as in `1.234` in German.
    pub other: Option<f64>,
    /// Its significant figures; nothing where a spreadsheet has lost the zeros at its end.
    pub figures: Option<usize>,
    /// Half a unit of its last place.
    pub half: f64,
    /// What stands behind it.
    pub unit: TypedUnit,
}

/// The unit behind a typed number.
#[derive(Debug, Clone, PartialEq)]
pub enum TypedUnit {
    /// None.
    None,
    /// A unit.
    Known(Unit),
    /// `?`: something that is no unit.
    Nonsense,
}

/// Why a cell can't be read.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Unreadable {
    /// What was found.
    pub(super) found: String,
    /// What to do.
    pub(super) hint: String,
}

/// Signs for no answer.
const BLANK: [&str; 4] = ["", "-", "–", "—"];
/// Signs of a point that is earned, and of one that is not.
const EARNED: [char; 6] = ['1', 'x', 'X', '✓', '✔', '+'];
const MISSED: [char; 6] = ['0', '-', '–', '_', '.', 'o'];

/// Whether a cell holds no answer.
pub(super) fn is_blank(text: &str) -> bool {
    BLANK.contains(&text)
}

/// A number with its unit; `exact` says whether the text has all signs that were typed.
pub(super) fn number(text: &str, exact: bool, notation: &Notation) -> Result<Entry, Unreadable> {
    if is_blank(text) {
        return Ok(Entry::Blank);
    }
    if let Some(number) = of_date(text) {
        return Err(Unreadable::date(text, &number));
    }
    let written = notation.parse_number(text).map_err(|error| Unreadable {
        found: match error {
            NumberError::NoDigits(_) => format!("`{text}` is no number"),
            other => other.to_string(),
        },
        hint: "write a number with or without a unit, such as `12.3 K` or `1.2e3`; `-` or nothing for no answer"
            .to_owned(),
    })?;
    let rest = written.rest.trim_end_matches(['.', ',', ';']).trim();
    let unit = match rest {
        "" => TypedUnit::None,
        "?" => TypedUnit::Nonsense,
        rest => match Unit::parse(rest) {
            Ok(unit) => TypedUnit::Known(unit),
            Err(error) => {
                let hint = error.hint.map_or_else(String::new, |hint| format!("{hint}; "));
                let hint = format!("{hint}write `?` behind the number for a unit that makes no sense");
                return Err(Unreadable { found: format!("`{rest}` behind the number is no unit"), hint });
            }
        },
    };
    Ok(Entry::Number(Typed {
        text: text.to_owned(),
        value: written.value,
        other: written.other,
        figures: exact.then_some(written.figures),
        half: rounding::last_figure(written.value, written.figures.max(1)) / 2.0,
        unit,
    }))
}

/// Points of a rubric of `most`: a count, or a sign for each point.
pub(super) fn points(text: &str, most: u32) -> Result<Entry, Unreadable> {
    if is_blank(text) {
        return Ok(Entry::Blank);
    }
    if let Ok(count) = text.parse::<u32>()
        && count <= most
    {
        return Ok(Entry::Points(count));
    }
    let signs: Vec<char> =
        text.chars().filter(|sign| !sign.is_whitespace() && !matches!(sign, ',' | ';' | '/')).collect();
    let known = signs.iter().all(|sign| EARNED.contains(sign) || MISSED.contains(sign));
    if known && signs.len() == most as usize {
        return Ok(Entry::Points(signs.iter().filter(|sign| EARNED.contains(sign)).count() as u32));
    }
    Err(Unreadable {
        found: format!("`{text}` is neither a count of points nor a sign for each of the {most}"),
        hint: format!(
            "write 0 to {most}, or one sign a point such as `{}`: 1 or x for earned, 0 or - for missed",
            example(most)
        ),
    })
}

fn example(most: u32) -> String {
    (0..most).map(|point| if point % 3 == 1 { '0' } else { '1' }).collect()
}

impl Unreadable {
    /// A spreadsheet took a number for a date.
    pub(super) fn date(text: &str, number: &str) -> Self {
        let meant = if number.is_empty() { String::new() } else { format!(" of a number such as `{number}`") };
        Self {
            found: format!("`{text}` is a date, which a spreadsheet may have made{meant}"),
            hint: "set the cell to text and type the answer again".to_owned(),
        }
    }
}

/// The number that a spreadsheet may have turned into this date: `03.04.2026`, `3. Apr`, `2026-04-03 00:00:00`, `Apr-05`.
pub(super) fn of_date(text: &str) -> Option<String> {
    let parts: Vec<&str> = text.split(['.', '-', '/', ' ']).filter(|part| !part.is_empty()).collect();
    let number = |part: &&str| part.parse::<u32>().ok();
    let month = |part: &&str| {
        let word: String = part.to_lowercase().chars().take(3).collect();
        let letters = part.chars().count() >= 3 && part.chars().all(char::is_alphabetic);
        MONTHS.iter().position(|names| letters && names.contains(&word.as_str())).map(|place| place as u32 + 1)
    };
    match parts.as_slice() {
        [year, second, third, ..] if year.len() == 4 && text.matches('-').count() >= 2 => {
            Some(format!("{}.{}", number(third)?, number(second)?))
        }
        [first, second, year] if text.matches(['.', '/', '-']).count() == 2 && matches!(year.len(), 2 | 4) => {
            number(year)?;
            Some(format!("{}.{}", number(first)?, number(second)?))
        }
        [first, second, ..] if month(second).is_some() => Some(format!("{}.{}", number(first)?, month(second)?)),
        [first, second, ..] if month(first).is_some() && number(second).is_some() => {
            Some(format!("{}.{}", month(first)?, number(second)?))
        }
        _ => None,
    }
}

/// The first letters of the months in English, German, French and Spanish.
const MONTHS: [&[&str]; 12] = [
    &["jan", "jän", "ene"],
    &["feb", "fév", "fev"],
    &["mar", "mär", "mrz"],
    &["apr", "avr", "abr"],
    &["may", "mai"],
    &["jun", "jui"],
    &["jul"],
    &["aug", "aoû", "aou", "ago"],
    &["sep"],
    &["oct", "okt"],
    &["nov"],
    &["dec", "dez", "déc", "dic"],
];

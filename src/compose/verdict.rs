//! A verdict in words. In: an attempt, its task, a language. Out: the verdict and what led to it. It must judge nothing.

use crate::{
    experiment::definition::Task,
    language::Language,
    marking::{Attempt, Entry, TypedUnit, Verdict, Why},
};

/// The verdict in words, such as `wrong (likely slip: minutes not turned into seconds)`.
pub fn verdict(attempt: &Attempt, task: &Task, language: &Language) -> String {
    let word = language.word(&format!("verdict-{}", attempt.verdict.word())).to_owned();
    match why(attempt, task, language) {
        reason if reason.is_empty() => word,
        reason => format!("{word} ({reason})"),
    }
}

/// What led to a verdict, in words; empty where the verdict says it all.
pub fn why(attempt: &Attempt, task: &Task, language: &Language) -> String {
    let phrase = |key: &str, parts: &[(&str, String)]| {
        let parts: Vec<(&str, &str)> = parts.iter().map(|(mark, part)| (*mark, part.as_str())).collect();
        language.phrase(key, &parts)
    };
    let first = match attempt.why {
        Why::Plain if attempt.verdict == Verdict::FollowThrough => phrase("why-own", &[]),
        Why::Plain => String::new(),
        Why::UnitMissing => phrase("why-unit-missing", &[]),
        Why::UnitWrong => phrase("why-unit-wrong", &[]),
        Why::Figures { found, asked } => {
            phrase("why-figures", &[("{found}", found.to_string()), ("{asked}", asked.to_string())])
        }
        Why::Power(power) => phrase("why-power", &[("{power}", language.notation.number(&format!("1e{power}")))]),
        Why::Slip(place) => {
            let slip = task.number.as_ref().and_then(|number| number.slips.get(place));
            let says = slip.map(|slip| slip.says.printed_in(language).into_owned()).unwrap_or_default();
            format!("{} {says}", language.heading("likely-slip"))
        }
        Why::Points(got) => phrase("why-points", &[("{got}", got.to_string()), ("{of}", attempt.of.to_string())]),
    };
    let unit = attempt.unit_fault && !matches!(attempt.why, Why::UnitMissing | Why::UnitWrong);
    let missing = matches!(&attempt.entry, Entry::Number(typed) if typed.unit == TypedUnit::None);
    let second = match (unit, missing) {
        (false, _) => String::new(),
        (true, true) => phrase("why-unit-missing", &[]),
        (true, false) => phrase("why-unit-wrong", &[]),
    };
    [first, second].into_iter().filter(|part| !part.is_empty()).collect::<Vec<_>>().join("; ")
}

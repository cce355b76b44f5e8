//! The sheet on top of a class set. In: the stack's sheets in order. Out: a table of them, and how many there are.
//! It must count pages only as they were printed.

use super::Labels;
use crate::{
    class::{Edition, Seat},
    language::Language,
    sheet::Cover,
};

/// A sheet in the stack.
#[derive(Debug, Clone, Copy)]
pub struct Stacked<'a> {
    /// What is written on it.
    pub labels: Labels<'a>,
    /// Its language.
    pub language: &'a Language,
    /// Where its student sits.
    pub seat: Option<Seat>,
    /// The file that it is in.
    pub file: &'a str,
    /// The page of the file that it begins on, from 1.
    pub first_page: usize,
    /// Its pages, without blank ones.
    pub pages: usize,
}

/// A stack of printed sheets.
pub struct Stack<'a> {
    /// Title of the experiment.
    pub title: &'a str,
    /// The class.
    pub class: &'a str,
    /// The sheets in order.
    pub sheets: &'a [Stacked<'a>],
    /// All pages, blank ones included.
    pub pages: usize,
    /// Whether both sides of the paper are printed.
    pub both_sides: bool,
    /// How many sheets of paper belong to each student, where it is the same number for all.
    pub staple: Option<usize>,
}

/// The cover in a language.
pub fn cover(stack: &Stack<'_>, language: &Language) -> Cover {
    let word = |key: &str| language.word(key).to_owned();
    let editions = Edition::ALL.iter().filter_map(|&edition| {
        let count = stack.sheets.iter().filter(|sheet| sheet.labels.edition == edition).count();
        (count > 0).then(|| format!("{count} {}", language.word(edition.word_key())))
    });
    let editions: Vec<String> = editions.collect();
    let paper = if stack.both_sides { stack.pages.div_ceil(2) } else { stack.pages };
    let mut counts = vec![
        (word("students"), format!("{} ({})", stack.sheets.len(), editions.join(", "))),
        (word("pages"), stack.pages.to_string()),
        (word("paper-sheets"), paper.to_string()),
    ];
    counts.extend(stack.staple.map(|sheets| (word("staple"), sheets.to_string())));
    let (heads, rows) = table(stack, language);
    Cover {
        lang: language.code.clone(),
        title: stack.title.to_owned(),
        class: stack.class.to_owned(),
        counts,
        advice: word(if stack.both_sides { "both-sides" } else { "one-side" }),
        heads,
        rows,
    }
}

/// What tells one sheet from another gets a column; what is the same for all gets none.
fn table(stack: &Stack<'_>, language: &Language) -> (Vec<String>, Vec<Vec<String>>) {
    type Show<'f> = Box<dyn Fn(&Stacked<'_>) -> String + 'f>;
    let word = |key: &str| language.word(key).to_owned();
    let differs = |show: &dyn Fn(&Stacked<'_>) -> String| {
        let mut texts = stack.sheets.iter().map(show);
        let first = texts.next();
        texts.any(|text| Some(&text) != first.as_ref())
    };
    let printed = |sheet: &Stacked<'_>| word(if sheet.labels.large { "print-large" } else { "print-normal" });
    let plain: [(&str, bool, Show<'_>); 8] = [
        ("name", true, Box::new(|sheet| sheet.labels.student.unwrap_or_default().to_owned())),
        ("code", false, Box::new(|sheet| sheet.labels.code.unwrap_or_default().to_owned())),
        ("seat", true, Box::new(|sheet| sheet.seat.map(|seat| seat.to_string()).unwrap_or_default())),
        ("edition", false, Box::new(|sheet| word(sheet.labels.edition.word_key()))),
        ("version", true, Box::new(|sheet| sheet.labels.version.map_or_else(String::new, |number| number.to_string()))),
        ("language", true, Box::new(|sheet| sheet.language.name.clone())),
        ("print", true, Box::new(printed)),
        ("file", true, Box::new(|sheet| sheet.file.to_owned())),
    ];
    let shown: Vec<_> = plain.into_iter().filter(|(_, may_miss, show)| !may_miss || differs(show)).collect();
    let heads = [word("order")].into_iter().chain(shown.iter().map(|(key, ..)| word(key)));
    let heads = heads.chain([word("first-page"), word("pages")]).collect();
    let row = |(place, sheet): (usize, &Stacked<'_>)| {
        let own = shown.iter().map(|(.., show)| show(sheet));
        let pages = [sheet.first_page.to_string(), sheet.pages.to_string()];
        [(place + 1).to_string()].into_iter().chain(own).chain(pages).collect()
    };
    (heads, stack.sheets.iter().enumerate().map(row).collect())
}

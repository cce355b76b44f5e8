//! Running text of sheets. In: a definition of the catalogue. Out: pass or fail.

use labquire::{
    class::Edition,
    compose::{Facts, View, sheet},
    experiment::{self, catalogue},
    key::Key,
    language::Language,
    sheet::{Block, Run},
    variant,
};

use crate::keys::labels;

/// The words of a task, without its symbols.
fn asked(task: &str) -> String {
    let (experiment, _) = experiment::load(&catalogue::find("thermosiphon").expect("built in")).expect("sound");
    let variant = variant::draw(&experiment, "prose", "1").expect("drawn");
    let key = Key::build(&experiment, &variant, "1").expect("keyed");
    let language = Language::find("en").expect("English");
    let facts = Facts { experiment: &experiment, variant: &variant, key: &key, language };
    let labels = labels(Edition::Extension);
    let blocks = sheet(&facts, labels, View::Worksheet).blocks;
    let found = blocks.into_iter().find_map(|block| match block {
        Block::Task(found) if found.id == task => Some(found.ask),
        _ => None,
    });
    let words = |run: Run| if let Run::Text(text) = run { text } else { String::new() };
    found.expect("a task of the edition").into_iter().map(words).collect()
}

/// No line ends between a number and its unit (ISO 80000-1, 7.1.4: they belong together); other spaces stay.
#[test]
fn a_number_keeps_its_unit() {
    assert!(asked("ratio").starts_with("The power at 16\u{202F}W is four times as large as at 4\u{202F}W. How many"));
    assert!(asked("drive").contains("a litre of water gets lighter by 0.23\u{202F}g for each kelvin"));
}

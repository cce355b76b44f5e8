//! Word files: complete in every language, and printable. In: the files shipped. Out: pass or fail.

use std::{collections::BTreeSet, fs, path::Path};

use labquire::{
    language::{Day, Language},
    press::covers,
};

fn keys<T>(map: &std::collections::BTreeMap<String, T>) -> BTreeSet<&str> {
    map.keys().map(String::as_str).collect()
}

/// Every `words.KEY` in the templates below a folder.
fn used(folder: &Path, found: &mut BTreeSet<String>) {
    for entry in fs::read_dir(folder).expect("a file of the project") {
        let path = entry.expect("a file of the project").path();
        if path.is_dir() {
            used(&path, found);
        } else if path.extension().is_some_and(|kind| kind == "typ" || kind == "j2") {
            let text = fs::read_to_string(&path).expect("a file of the project");
            for piece in text.split("words.").skip(1) {
                found.insert(piece.chars().take_while(|sign| sign.is_ascii_lowercase() || *sign == '-').collect());
            }
        }
    }
}

#[test]
fn the_languages_are_there() {
    assert_eq!(Language::find("de").unwrap().name, "Deutsch");
    assert_eq!(Language::find("en").unwrap().notation.number("-12345.6"), "\u{2212}12\u{202F}345.6");
    assert_eq!(Language::find("de").unwrap().notation.number("1.5"), "1,5");
    assert_eq!(
        Language::all().iter().map(|language| language.code.as_str()).collect::<Vec<_>>(),
        ["en", "de", "es", "fr"]
    );
    assert!(Language::find("xx").is_none());
}

#[test]
fn all_languages_have_the_same_keys() {
    let first = &Language::all()[0];
    for language in Language::all() {
        assert_eq!(keys(language.words()), keys(first.words()), "words of {}", language.code);
        assert_eq!(keys(language.hazards()), keys(first.hazards()), "hazards of {}", language.code);
    }
}

#[test]
fn a_file_is_named_after_its_language() {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("templates/words");
    let files: BTreeSet<String> = fs::read_dir(folder)
        .unwrap()
        .map(|entry| entry.unwrap().path().file_stem().unwrap().to_string_lossy().into_owned())
        .collect();
    let codes: BTreeSet<String> = Language::all().iter().map(|language| language.code.clone()).collect();
    assert_eq!(files, codes);
}

#[test]
fn templates_use_words_that_exist() {
    let mut found = BTreeSet::new();
    used(&Path::new(env!("CARGO_MANIFEST_DIR")).join("templates"), &mut found);
    assert!(found.len() > 15, "the search finds the words: {found:?}");
    for language in Language::all() {
        let missing: Vec<_> = found.iter().filter(|key| !language.words().contains_key(*key)).collect();
        assert!(missing.is_empty(), "{}: {missing:?}", language.code);
    }
}

#[test]
fn every_word_can_be_printed() {
    for language in Language::all() {
        let hazards = language.hazards().values().flat_map(|hazard| [&hazard.word, &hazard.text]);
        for text in language.words().values().chain(hazards) {
            assert!(!text.trim().is_empty() && covers(text).is_none(), "{}: `{text}`", language.code);
        }
    }
}

#[test]
fn cautions_defer_to_the_school() {
    for (code, school) in [("en", "your school"), ("de", "der Schule"), ("fr", "l’établissement"), ("es", "del centro")]
    {
        for (key, hazard) in Language::find(code).unwrap().hazards() {
            assert!(hazard.text.contains(school) && hazard.text.ends_with('.'), "{code} {key}: {}", hazard.text);
        }
    }
}

/// Days as the four languages write them (common practice, no source).
#[test]
fn days_are_written_as_is_usual() {
    let day = |code: &str| "2026-12-03".parse::<Day>().unwrap().written(Language::find(code).unwrap());
    assert_eq!(["en", "de", "fr", "es"].map(day), ["3 December 2026", "3.12.2026", "3/12/2026", "3/12/2026"]);
    for wrong in ["2026-02-29", "2026-13-01", "2026-1-2", "3.12.2026", "2100-02-29", ""] {
        assert!(wrong.parse::<Day>().is_err(), "{wrong}");
    }
    assert!("2028-02-29".parse::<Day>().is_ok() && "2000-02-29".parse::<Day>().is_ok());
}

/// French sets a space before high punctuation and inside its quotes, and no line may end at it (Imprimerie nationale,
/// Lexique des règles typographiques, from memory).
#[test]
fn french_punctuation_stays_with_its_word() {
    let kept = |code: &str, text| Language::find(code).unwrap().notation.kept_together(text).into_owned();
    assert_eq!(kept("fr", "Le « capteur » : où ?"), "Le «\u{A0}capteur\u{A0}»\u{A0}: où\u{A0}?");
    assert_eq!(kept("fr", "rien à faire"), "rien à faire");
    assert_eq!(kept("en", "a : b"), "a : b");
    assert!(Language::find("fr").unwrap().word("check-bar").contains("mm\u{A0}:"));
}

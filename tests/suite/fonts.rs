//! A school's own fonts. In: the shipped face under another name, and wrong files. Out: pass or fail.

use std::fs;

use labquire::{
    experiment,
    experiment::catalogue,
    language::Language,
    press::{Fonts, FontsError, covers},
    set::{Print, Printing, SetPlan},
};

fn shipped(name: &str) -> Vec<u8> {
    fs::read(format!("{}/templates/fonts/{name}", env!("CARGO_MANIFEST_DIR"))).expect("a file of the project")
}

/// The shipped face with `Source` changed to another word of six letters in all its names.
fn renamed(word: &str) -> Vec<u8> {
    let mut data = shipped("SourceSans3-Variable.ttf");
    let wide = |text: &str| -> Vec<u8> { text.encode_utf16().flat_map(u16::to_be_bytes).collect() };
    for (old, new) in [(wide("Source"), wide(word)), (b"Source".to_vec(), word.as_bytes().to_vec())] {
        assert_eq!(old.len(), new.len());
        for place in 0..data.len() - old.len() {
            if data[place..].starts_with(&old) {
                data[place..place + new.len()].copy_from_slice(&new);
            }
        }
    }
    data
}

#[test]
fn pages_are_set_in_the_fonts_of_the_school() {
    let fonts = Fonts::own([("own.ttf".to_owned(), renamed("Bourse"))]).expect("a font");
    assert_eq!(fonts.families(), ["Bourse Sans 3"]);
    assert_eq!(fonts.ragged_digits(), None, "the shipped face has digits of equal width");
    let (experiment, _) = experiment::load(&catalogue::find("pump-rate").expect("built in")).expect("sound");
    let roster = labquire::class::Roster {
        name: "9b".into(),
        students: labquire::class::demo().students.into_iter().take(1).collect(),
    };
    let language = Language::find("en").expect("English");
    let names = |fonts: &Fonts| {
        let plan = SetPlan { fonts, ..SetPlan::new(&experiment, &roster, "own", language) };
        let members = plan.draft(|_, _| true).map_err(|_| "refused").expect("drawn").members;
        let print = Print::new(&plan, &members, Printing::default()).expect("templates");
        let found = std::sync::Mutex::new(String::new());
        print
            .run(|name, bytes, _| {
                if name == "worksheets.pdf" {
                    // Names of fonts stand uncompressed in the PDFs.
                    *found.lock().expect("one thread at a time") = String::from_utf8_lossy(bytes).into_owned();
                }
                Ok(())
            })
            .expect("printed");
        found.into_inner().expect("one thread at a time")
    };
    let (own, shipped) = (names(&fonts), names(Fonts::shipped()));
    assert!(own.contains("BourseSans3") && !own.contains("SourceSans3-Regular"), "set in the school's font");
    assert!(shipped.contains("SourceSans3") && !shipped.contains("Bourse"), "and not without it");
}

#[test]
fn shipped_fonts_stand_in_for_signs() {
    let fonts = Fonts::own([("own.ttf".to_owned(), renamed("Bourse"))]).expect("a font");
    for text in ["Žofia Łęcka", "Ελένη", "漢", "9b"] {
        assert_eq!(fonts.covers(text), covers(text), "{text}");
    }
}

#[test]
fn what_is_no_font_for_text_is_named() {
    let junk = || ("broken.ttf".to_owned(), b"no font at all".to_vec());
    let maths = || ("maths.otf".to_owned(), shipped("FiraMath-Regular.otf"));
    let faults = |files: Vec<(String, Vec<u8>)>| Fonts::own(files).expect_err("refused");
    assert_eq!(faults(vec![]), [FontsError::NoText]);
    assert_eq!(faults(vec![junk()]), [FontsError::Unreadable("broken.ttf".into())]);
    assert_eq!(faults(vec![maths()]), [FontsError::NoText]);
    let two = vec![
        ("a.ttf".to_owned(), renamed("Bourse")),
        ("b.ttf".to_owned(), shipped("SourceSans3-Variable.ttf")),
        junk(),
    ];
    let families = vec!["Bourse Sans 3".to_owned(), "Source Sans 3".to_owned()];
    let expected = [FontsError::Unreadable("broken.ttf".into()), FontsError::Several { purpose: "text", families }];
    assert_eq!(faults(two), expected);
}

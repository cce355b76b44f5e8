//! Pages: they can be printed, show names exactly, and keep their millimetres. In: a sheet made here. Out: pass or fail.

mod fixture;
mod frames;
mod paper;

use std::thread;

use frames::{page_text, squeezed};
use labquire::press::{Documents, Leaf, Paper, PdfJob, Press, PressError, Standards, covers};
use proptest::prelude::*;

const NAMES: [&str; 9] = [
    "#let x",
    "$a_b$",
    "O'Neil \"Al\" \\ <b>",
    "Žofia Łęcka",
    "Maximilian-Alexander von und zu Hohenschwangau-Lichtenstein-X",
    "WWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWW",
    "Ελένη Παπαδοπούλου",
    "Анастасия Ковальчук",
    "*b* _i_ @ref // /* ` ~ -- ... #[x] [y] {{ z }} {% q %} \\u{41}",
];

fn documents() -> Documents {
    Documents::new().expect("templates of the program")
}

fn job(ident: &str) -> PdfJob {
    PdfJob { ident: ident.to_owned(), ..PdfJob::default() }
}

/// A volume of short sheets, one a name.
fn volume(names: &[&str], paper: Paper) -> Vec<Leaf> {
    let documents = documents();
    names
        .iter()
        .enumerate()
        .map(|(place, name)| {
            let mut sheet = fixture::sheet(Some(name), "en", place % 2 == 1, false);
            sheet.blocks.truncate(1);
            documents.worksheet("Names", &sheet, paper).expect("templates of the program")
        })
        .collect()
}

#[test]
fn every_document_obeys_both_standards() {
    let (documents, press) = (documents(), Press::new());
    for lang in ["en", "de"] {
        for paper in [Paper::A4, Paper::Letter] {
            for large in [false, true] {
                let sheet = fixture::sheet(Some("Žofia Łęcka"), lang, large, false);
                let leaf = documents.worksheet("Sheet", &sheet, paper).unwrap();
                let printed = press.pdf(vec![leaf], &job("sheet")).unwrap();
                assert!(printed.bytes.starts_with(b"%PDF-1.7"), "{lang} {paper:?} {large}");
                assert_eq!(printed.leaves, [printed.pages]);
            }
            let key = fixture::sheet(None, lang, false, true);
            let leaf = documents.key("Key", &key, paper).unwrap();
            assert!(press.pdf(vec![leaf], &job("key")).unwrap().pages <= 3, "{lang} {paper:?}");
            press.pdf(documents.grid(&fixture::grid(lang, 30), paper).unwrap(), &job("grid")).unwrap();
            press.pdf(documents.teacher(&fixture::teacher(lang), paper).unwrap(), &job("notes")).unwrap();
        }
    }
}

#[test]
fn thirty_students_stand_on_one_page_of_the_grid() {
    for paper in [Paper::A4, Paper::Letter] {
        let source = documents().grid(&fixture::grid("en", 30), paper).unwrap();
        assert_eq!(Press::new().document(source).unwrap().pages().len(), 1, "{paper:?}");
    }
}

#[test]
fn names_are_printed_exactly() {
    let document = Press::new().document(volume(&NAMES, Paper::A4)).unwrap();
    for (place, name) in NAMES.iter().enumerate() {
        let text = squeezed(&page_text(&document, place * 2));
        let wanted = squeezed(name);
        assert_eq!(text.matches(&wanted).count(), 2, "`{name}` in box and footer: {text}");
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(24))]
    #[test]
    fn no_text_of_a_user_is_ever_markup(name in "[!-~]{1,30}", title in "[!-~]{1,20}") {
        let mut sheet = fixture::sheet(Some(&name), "en", false, false);
        sheet.blocks.truncate(1);
        sheet.title.clone_from(&title);
        let leaf = documents().worksheet(&title, &sheet, Paper::A4).unwrap();
        let document = Press::new().document(vec![leaf]).unwrap();
        let text = squeezed(&page_text(&document, 0));
        prop_assert!(text.contains(&name) && text.contains(&title), "{text}");
    }
}

#[test]
fn each_student_starts_on_an_odd_page_after_a_blank_one() {
    let documents = documents();
    let leaf = |n| {
        let sheet = fixture::sheet(Some(&format!("Name{n}")), "en", false, false);
        documents.worksheet("Volume", &sheet, Paper::A4).unwrap()
    };
    let document = Press::new().document((0..3).map(leaf).collect::<Vec<_>>()).unwrap();
    let texts: Vec<String> = (0..document.pages().len()).map(|page| page_text(&document, page)).collect();
    let pages = texts.iter().filter(|text| text.contains("Name0")).count();
    assert_eq!(pages % 2, 1, "the fixture must need a filler to test one");
    for student in 0..3 {
        let first = texts.iter().position(|text| text.contains(&format!("Name{student}"))).unwrap();
        assert_eq!(first, student * (pages + 1), "counted from zero, odd pages are even");
        for page in 0..pages {
            let mark = format!("Page {} of {pages}", page + 1);
            assert!(texts[first + page].contains(&mark), "{mark}: {}", texts[first + page]);
        }
        if student > 0 {
            assert!(frames::is_blank(&document, first - 1), "filler before {student}");
        }
    }
}

#[test]
fn every_page_bears_code_and_class() {
    let sheet = fixture::sheet(None, "en", false, false);
    let leaf = documents().worksheet("Codes", &sheet, Paper::A4).unwrap();
    let document = Press::new().document(vec![leaf]).unwrap();
    for page in 0..document.pages().len() {
        let text = page_text(&document, page);
        assert!(text.contains("K7Q2-M9") && text.contains("9b"), "{text}");
    }
}

#[test]
fn the_same_source_gives_the_same_bytes_on_any_thread() {
    let source = volume(&NAMES[..4], Paper::A4);
    let print = || Press::new().pdf(source.clone(), &job("same")).unwrap().bytes;
    let here = print();
    let there: Vec<Vec<u8>> = thread::scope(|scope| {
        let threads = [scope.spawn(print), scope.spawn(print)];
        threads.into_iter().map(|thread| thread.join().unwrap()).collect()
    });
    assert!(there.iter().all(|bytes| *bytes == here));
    assert!(Press::new().pdf(source, &job("other")).unwrap().bytes != here, "the identifier must count");
}

#[test]
fn warnings_are_errors() {
    let fault = Press::new().document("#set text(font: \"No Such Font\")\nx".to_owned()).unwrap_err();
    assert!(matches!(fault, PressError::Setting(_)), "{fault}");
    assert!(fault.to_string().contains("main.typ, line 1"), "{fault}");
}

#[test]
fn mathematics_without_words_is_refused_in_accessible_files_only() {
    let source = "#set document(title: \"x\")\n#set text(font: \"Source Sans 3\")\n#show math.equation: set text(font: \"Fira Math\")\n= x\n$y$";
    let fault = Press::new().pdf(source.to_owned(), &job("x")).unwrap_err();
    assert!(matches!(fault, PressError::Pdf(_)), "{fault}");
    Press::new().pdf(source.to_owned(), &PdfJob { standards: Standards::Plain, ..job("x") }).unwrap();
}

#[test]
fn an_unknown_language_is_named() {
    let sheet = labquire::sheet::Sheet { lang: "xx".into(), ..fixture::sheet(None, "en", false, false) };
    let fault = documents().worksheet("x", &sheet, Paper::A4).unwrap_err();
    assert_eq!(fault.to_string(), "no language `xx`");
}

#[test]
fn signs_without_a_glyph_are_found() {
    for name in NAMES {
        assert_eq!(covers(name), None, "{name}");
    }
    assert_eq!(covers("Ming 明"), Some('明'));
    assert_eq!(covers("two\nlines"), Some('\n'));
}

#[test]
fn pictures_have_the_size_of_the_paper() {
    let pictures = Press::new().png(volume(&NAMES[..1], Paper::A4), 72.0).unwrap();
    assert_eq!(pictures.len(), 1);
    // PNG (ISO/IEC 15948), from memory: width and height stand big-endian at bytes 16 and 20. A4 is 595 by 842 points.
    let size = |at: usize| u32::from_be_bytes(pictures[0][at..at + 4].try_into().unwrap());
    assert_eq!((size(16), size(20)), (595, 842));
}

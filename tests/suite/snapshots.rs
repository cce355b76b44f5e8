//! Pages as they were when somebody last looked at them. In: every experiment, and the list `tests/pages/snapshots.txt`.
//! Out: pass, or the pages that have changed.
//!
//! Whoever changed them on purpose looks at them (`labquire preview`) and renews the list:
//! `LABQUIRE_RENEW_SNAPSHOTS=1 cargo test --release --test suite snapshots`.

use std::{collections::BTreeMap, fmt::Write};

use labquire::{
    class::{Edition, Roster, Student},
    experiment::{self, catalogue},
    language::Language,
    set::{Print, Printing, SetPlan},
};
use rayon::prelude::*;
use sha2::{Digest, Sha256};

const LIST: &str = "tests/pages/snapshots.txt";
/// Enough to tell every line of a page, and quick.
const DOTS_PER_INCH: f64 = 40.0;
/// One sheet an edition, a language each, and one in large print.
const SHEETS: [(Edition, &str, bool); 4] = [
    (Edition::Support, "en", false),
    (Edition::Core, "de", false),
    (Edition::Extension, "fr", false),
    (Edition::Core, "es", true),
];

/// The hash of each page of an experiment's sheets and keys, by its name in the list.
fn pages_of(id: &str) -> BTreeMap<String, String> {
    let (experiment, _) = experiment::load(&catalogue::find(id).expect("built in")).expect("sound");
    let mut found = BTreeMap::new();
    for (edition, code, large) in SHEETS {
        let name = "Ada Lindqvist".to_owned();
        let student =
            Student { id: "1".into(), name, edition: Some(edition), seat: None, group: None, lang: None, large };
        let roster = Roster { name: "9b".into(), students: vec![student] };
        let plan = SetPlan::new(&experiment, &roster, "snapshot", Language::find(code).expect("a language"));
        let members = plan.draft(|_, _| true).map_err(|_| "refused").expect("drawn").members;
        let print = Print::new(&plan, &members, Printing::default()).expect("templates");
        let print_word = if large { " large" } else { "" };
        for (kind, pages) in ["sheet", "key"].into_iter().zip(print.pictures(0, DOTS_PER_INCH).expect("pages")) {
            for (place, page) in pages.iter().enumerate() {
                let hash = Sha256::digest(page)[..8].iter().fold(String::new(), |mut hash, byte| {
                    write!(hash, "{byte:02x}").expect("a string");
                    hash
                });
                found.insert(format!("{id} {} {code}{print_word} {kind} {:02}", edition.word(), place + 1), hash);
            }
        }
    }
    found
}

#[test]
fn pages_are_as_they_were_looked_at() {
    let pages: BTreeMap<String, String> =
        catalogue::ids().par_iter().map(|id| pages_of(id)).reduce(BTreeMap::new, |mut all, some| {
            all.extend(some);
            all
        });
    let path = format!("{}/{LIST}", env!("CARGO_MANIFEST_DIR"));
    if std::env::var_os("LABQUIRE_RENEW_SNAPSHOTS").is_some() {
        let list: String = pages.iter().map(|(page, hash)| format!("{page} {hash}\n")).collect();
        std::fs::write(&path, list).expect("the list can be written");
        return;
    }
    let list = std::fs::read_to_string(&path).expect("a file of the project");
    let known: BTreeMap<String, String> =
        list.lines().filter_map(|line| line.rsplit_once(' ')).map(|(page, hash)| (page.into(), hash.into())).collect();
    assert!(known.len() > 500, "the list is read: {} pages", known.len());
    let names = known.keys().chain(pages.keys());
    let changed: std::collections::BTreeSet<&String> =
        names.filter(|page| known.get(*page) != pages.get(*page)).collect();
    assert!(
        changed.is_empty(),
        "{} pages have changed; the head of this file says what to do: {changed:#?}",
        changed.len()
    );
}

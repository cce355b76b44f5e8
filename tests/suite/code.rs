//! Sheet codes: every slip of a single sign and every swap of neighbours is caught.

use std::collections::HashSet;

use labquire::class::{Code, CodeError};

const SIGNS: &str = "23456789ABCDEFGHJKMNPQRSTUVWXYZ";

fn signs(code: &Code) -> Vec<char> {
    code.to_string().chars().filter(|sign| *sign != '-').collect()
}

#[test]
fn every_single_error_and_every_swap_of_neighbours_is_caught() {
    for student in 0..200 {
        let code = Code::new("autumn", "pumped-loop", &student.to_string(), 0);
        let right = signs(&code);
        assert_eq!(Code::parse(&code.to_string()), Ok(code));
        for place in 0..8 {
            for sign in SIGNS.chars().filter(|sign| *sign != right[place]) {
                let mut wrong = right.clone();
                wrong[place] = sign;
                assert_eq!(Code::parse(&wrong.iter().collect::<String>()), Err(CodeError::Check), "{code}: {wrong:?}");
            }
            if place < 7 && right[place] != right[place + 1] {
                let mut wrong = right.clone();
                wrong.swap(place, place + 1);
                assert_eq!(Code::parse(&wrong.iter().collect::<String>()), Err(CodeError::Check), "{code}: {wrong:?}");
            }
        }
    }
}

#[test]
fn ten_thousand_students_have_ten_thousand_codes() {
    let ids: Vec<String> = (0..10_000).map(|id| id.to_string()).collect();
    let ids: Vec<&str> = ids.iter().map(String::as_str).collect();
    let codes = Code::for_set("seed", "pumped-loop", &ids, &[]);
    let different: HashSet<_> = codes.iter().collect();
    assert_eq!(different.len(), codes.len());
    let backwards: Vec<&str> = ids.iter().rev().copied().collect();
    let mut again = Code::for_set("seed", "pumped-loop", &backwards, &[]);
    again.reverse();
    assert_eq!(again, codes, "the order of the list plays no part");
}

/// Codes of so many students clash by themselves (7 signs of 31: some 3 pairs in 400 000 are expected), and are told apart.
#[test]
fn a_clash_goes_to_the_later_id() {
    let mut ids: Vec<String> = (0..400_000).map(|id| id.to_string()).collect();
    ids.sort();
    let ids: Vec<&str> = ids.iter().map(String::as_str).collect();
    let mut seen = HashSet::new();
    let clashing: Vec<&str> =
        ids.iter().copied().filter(|id| !seen.insert(Code::new("seed", "pumped-loop", id, 0))).collect();
    assert!(!clashing.is_empty(), "no clash to tell apart");
    let codes = Code::for_set("seed", "pumped-loop", &ids, &[]);
    assert_eq!(codes.iter().collect::<HashSet<_>>().len(), ids.len());
    for (id, code) in ids.iter().zip(&codes) {
        let round = u32::from(clashing.contains(id));
        assert_eq!(*code, Code::new("seed", "pumped-loop", id, round), "{id}");
    }
}

#[test]
fn parts_that_run_together_make_other_codes() {
    let codes = [("ab", "c", "d"), ("a", "bc", "d"), ("a", "b", "cd"), ("abc", "", "d"), ("abc", "d", "")];
    let codes: HashSet<Code> = codes.iter().map(|(seed, id, student)| Code::new(seed, id, student, 0)).collect();
    assert_eq!(codes.len(), 5);
}

#[test]
fn codes_may_be_typed_carelessly_but_not_wrongly() {
    let code = Code::new("seed", "pumped-loop", "7", 0);
    let text = code.to_string();
    assert_eq!(text.len(), 9);
    assert_eq!(Code::parse(&text.to_lowercase().replace('-', " ")), Ok(code));
    assert_eq!(text.find('-'), Some(4));
    assert_eq!(Code::parse(&text.replace('-', "")), Ok(code));
    assert_eq!(Code::parse(&text.replace('-', "\u{2013}")), Ok(code), "a dash put in by a word processor");
    assert_eq!(Code::parse("ABC"), Err(CodeError::Length(3)));
    assert_eq!(Code::parse("0BCD-EFGH"), Err(CodeError::Sign('0')));
}

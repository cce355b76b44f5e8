//! Sheet codes: every slip of a single sign and every swap of neighbours is caught.

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
    let codes = Code::for_set("seed", "pumped-loop", &ids);
    let different: std::collections::HashSet<_> = codes.iter().collect();
    assert_eq!(different.len(), codes.len());
    let backwards: Vec<&str> = ids.iter().rev().copied().collect();
    let mut again = Code::for_set("seed", "pumped-loop", &backwards);
    again.reverse();
    assert_eq!(again, codes, "the order of the list plays no part");
}

#[test]
fn codes_may_be_typed_carelessly_but_not_wrongly() {
    let code = Code::new("seed", "pumped-loop", "7", 0);
    let text = code.to_string();
    assert_eq!(text.len(), 9);
    assert_eq!(Code::parse(&text.to_lowercase().replace('-', " ")), Ok(code));
    assert_eq!(Code::parse("ABC"), Err(CodeError::Length(3)));
    assert_eq!(Code::parse("0BCD-EFGH"), Err(CodeError::Sign('0')));
}

//! Problems on the screen and as JSON. In: problems made here. Out: pass or fail.
//! Columns were counted by hand; wide characters take two columns of a terminal (Unicode Standard Annex 11).

use std::sync::Arc;

use labquire::report::{Place, Problem, Source, json, show};

/// A problem at the first `word` of a text.
fn at(source: &Arc<Source>, word: &str) -> Problem {
    let start = source.text.find(word).expect("the word");
    Problem::error(format!("found `{word}`")).at(Place::Text(Arc::clone(source), start..start + word.len()))
}

/// The shown source line and the columns of the underline below it, both behind the bar at the left.
fn underline(problem: Problem) -> (String, usize, usize) {
    let shown = show(&[problem], false);
    let behind_bar =
        |line: &str| line.split_once('|').map(|(_, rest)| rest.strip_prefix(' ').unwrap_or(rest).to_owned());
    let lines: Vec<String> = shown.lines().filter_map(behind_bar).collect();
    let marks = lines.iter().position(|line| line.trim_start().starts_with('^')).expect("an underline");
    let start = lines[marks].find('^').expect("a mark");
    (lines[marks - 1].clone(), start, lines[marks].matches('^').count())
}

#[test]
fn a_problem_shows_place_line_underline_and_hint() {
    let source = Source::new("loop.yaml", "id: loop\nminutes: long\n");
    let problem = at(&source, "long").label("expected a whole number").hint("write `90`");
    let expected = "\
error: found `long`
 --> loop.yaml:2:10
  |
2 | minutes: long
  |          ^^^^ expected a whole number
  |
  = hint: write `90`

1 error";
    assert_eq!(show(&[problem], false), expected);
}

#[test]
fn problems_stand_in_order_of_place_whatever_their_level() {
    let (first, second) = (Source::new("a.yaml", "one two three\n"), Source::new("b.yaml", "one\n"));
    let mut warning = at(&first, "two");
    warning.level = Problem::warning("").level;
    let all = [at(&second, "one"), at(&first, "three"), warning, at(&first, "one"), Problem::notice("done")];
    let shown = show(&all, false);
    let heads: Vec<&str> =
        shown.lines().filter(|line| line.contains(" --> ") || line.starts_with("notice")).map(str::trim).collect();
    assert_eq!(heads, ["notice: done", "--> a.yaml:1:1", "--> a.yaml:1:5", "--> a.yaml:1:9", "--> b.yaml:1:1"]);
    assert!(shown.ends_with("\n\n3 errors, 1 warning, 1 notice"), "{shown}");
    let listed: Vec<_> = json(&all).as_array().expect("a list").iter().map(|one| one["column"].as_u64()).collect();
    assert_eq!(listed, [None, Some(1), Some(5), Some(9), Some(1)]);
}

#[test]
fn nothing_wrong_shows_nothing() {
    assert_eq!(show(&[], false), "");
    assert_eq!(json(&[]), serde_json::json!([]));
}

#[test]
fn tabs_and_wide_characters_keep_the_underline_below_its_word() {
    let (line, start, length) = underline(at(&Source::new("a", "a:\tb\tbad\n"), "bad"));
    assert_eq!((line.find("bad"), length), (Some(start), 3));
    let (line, start, length) = underline(at(&Source::new("a", "a: 温度 bad\n"), "bad"));
    assert_eq!((line.as_str(), start, length), ("a: 温度 bad", 8, 3));
    let (line, start, length) = underline(at(&Source::new("a", "a: größer bad\n"), "bad"));
    assert_eq!((line.as_str(), start, length), ("a: größer bad", 10, 3));
    let (_, start, length) = underline(at(&Source::new("a", "a: 温度\n"), "温度"));
    assert_eq!((start, length), (3, 4));
    let (line, start, length) = underline(at(&Source::new("a", "x: 1\r\na: bad\r\nb: 2\r\n"), "bad"));
    assert_eq!((line.as_str(), start, length), ("a: bad", 3, 3));
}

#[test]
fn a_long_line_is_cut_around_its_underline() {
    let source = Source::new("a", format!("a: {}bad{}\n", "word ".repeat(100), " more".repeat(100)));
    let (line, start, length) = underline(at(&source, "bad"));
    assert_eq!((line.find("bad"), length), (Some(start), 3));
    assert!(line.chars().count() <= 120, "{line}");
    assert!(line.starts_with("...") && line.ends_with("..."), "{line}");
}

#[test]
fn a_range_over_several_lines_underlines_its_first() {
    let source = Source::new("a", "a:\n  b: 1\n  c: 2\n");
    let problem = Problem::error("x").at(Place::Text(Arc::clone(&source), 5..source.text.len()));
    assert_eq!(underline(problem), ("  b: 1".to_owned(), 2, 4));
}

#[test]
fn places_outside_a_text_are_named() {
    let file = Problem::error("not found").at(Place::File("none.yaml".to_owned()));
    assert_eq!(show(&[file], false), "error: not found\n--> none.yaml\n\n1 error");
    let cell = Problem::error("no number").at(Place::Cell("class.xlsx".to_owned(), "9b".to_owned(), "B4".to_owned()));
    assert!(show(std::slice::from_ref(&cell), false).contains("class.xlsx, sheet 9b, cell B4"));
    let expected = serde_json::json!([{
        "level": "error", "message": "no number", "label": "", "hint": null, "file": "class.xlsx", "sheet": "9b", "cell": "B4"
    }]);
    assert_eq!(json(&[cell]), expected);
}

#[test]
fn a_place_that_does_not_exist_is_moved_into_the_text() {
    let source = Source::new("a", "aä");
    for span in [2..2, 0..2, 9..12, 3..3] {
        let problem = Problem::error("x").at(Place::Text(Arc::clone(&source), span));
        assert!(show(std::slice::from_ref(&problem), false).contains(" --> a:1:"));
        assert_eq!(json(&[problem])[0]["line"], 1);
    }
}

#[test]
fn colour_changes_nothing_but_colour() {
    let source = Source::new("loop.yaml", "id: loop\n");
    let problem = [at(&source, "loop").label("a label").hint("a hint")];
    let (plain, coloured) = (show(&problem, false), show(&problem, true));
    assert!(!plain.contains('\u{1b}') && coloured.contains("\u{1b}["));
    let mut bare = String::new();
    let mut rest = coloured.as_str();
    while let Some((before, code)) = rest.split_once("\u{1b}[") {
        bare.push_str(before);
        rest = code.split_once('m').expect("the end of a code").1;
    }
    assert_eq!(bare + rest, plain);
}

#[test]
fn editors_get_lines_and_columns_from_one() {
    let source = Source::new("loop.yaml", "id: größe\r\nminutes: long\r\n");
    let problem = at(&source, "long").label("expected a whole number").hint("write `90`");
    let expected = serde_json::json!([{
        "level": "error", "message": "found `long`", "label": "expected a whole number", "hint": "write `90`",
        "file": "loop.yaml", "line": 2, "column": 10, "end_line": 2, "end_column": 14
    }]);
    assert_eq!(json(&[problem]), expected);
    let umlaut = &json(&[at(&source, "größe")])[0];
    assert_eq!((umlaut["column"].as_u64(), umlaut["end_column"].as_u64()), (Some(5), Some(10)));
}

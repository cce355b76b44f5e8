//! What only shows when a checked file is read into types. In: an error of the YAML reader. Out: a problem at its place.
//! The schema finds nearly everything first; what comes here must still get a place and plain words.

use super::wording::list;
use crate::{
    experiment::place::{Path, PlaceMap},
    report::{Problem, nearest},
};

/// The reader's error as a problem.
pub fn serde_problem(places: &PlaceMap, error: &serde_yaml::Error) -> Problem {
    let whole = error.to_string();
    let said = match (whole.rfind(" at line "), error.location()) {
        (Some(end), Some(_)) => &whole[..end],
        _ => whole.as_str(),
    };
    let (named, said) = match said.split_once(": ").and_then(|(path, said)| Some((places.named(path)?, said))) {
        Some((path, said)) => (Some(path), said),
        None => (None, said),
    };
    let quoted = quoted(said);
    let problem = if said.starts_with("missing field") && !quoted.is_empty() {
        Problem::error(format!("{} is missing", list(&quoted[..1], "and")))
    } else if let Some((found, expected)) = said.strip_prefix("unknown ").and_then(|said| said.split_once(", expected"))
    {
        let problem = Problem::error(format!("unknown {found}")).label(format!("expected{expected}"));
        match quoted.split_first().and_then(|(found, known)| nearest(found, known.iter().copied())) {
            Some(near) => problem.hint(format!("did you mean `{near}`?")),
            None => problem,
        }
    } else if let Some((found, expected)) =
        said.strip_prefix("invalid ").and_then(|said| said.split_once(", expected "))
    {
        let found = found.split_once(": ").map_or(found, |(_, found)| found);
        Problem::error(format!("found {}", plain(found))).label(format!("expected {}", plain(expected)))
    } else {
        Problem::error(said.strip_suffix('.').unwrap_or(said))
    };
    problem.at(match (named, error.location()) {
        (Some(path), _) if said.starts_with("missing field") => places.key(path),
        (Some(path), _) if said.starts_with("unknown field") && !quoted.is_empty() => {
            places.key(path.clone().key(quoted[0]))
        }
        // A type's own refusal comes with the place of the group around it: the value that it quotes is what it means.
        (part, location) => match (places.child_that_says(part.unwrap_or(&Path::root()), &quoted), part, location) {
            (Some(path), ..) | (None, Some(path), _) => places.value(path),
            (None, None, Some(location)) => places.line_from(location.index()),
            (None, None, None) => places.key(Path::root()),
        },
    })
}

/// The names in backticks.
fn quoted(said: &str) -> Vec<&str> {
    said.split('`').skip(1).step_by(2).collect()
}

/// Words for the reader's names of kinds.
fn plain(kind: &str) -> String {
    if kind == "a string" {
        return "a text".to_owned();
    }
    let (kind, rest) = kind.split_once(' ').map_or((kind, ""), |(kind, rest)| (kind, rest));
    let kind = match kind {
        "u8" | "u16" | "u32" | "u64" | "usize" => {
            let most = match kind {
                "u8" => u64::from(u8::MAX),
                "u16" => u64::from(u16::MAX),
                "u32" => u64::from(u32::MAX),
                _ => u64::MAX,
            };
            return format!("a whole number from 0 to {most}");
        }
        "i8" | "i16" | "i32" | "i64" | "isize" => "a whole number",
        "f32" | "f64" => "a number",
        "integer" | "string" | "floating" => {
            return format!(
                "{} {}",
                if kind == "string" { "the text" } else { "the number" },
                rest.trim_start_matches("point ")
            );
        }
        "map" | "struct" => "a group of fields",
        "sequence" => "a list",
        "unit" => "nothing",
        _ => return [kind, rest].join(" ").trim_end().to_owned(),
    };
    kind.to_owned()
}

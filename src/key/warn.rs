//! Slips that an author should think about again. In: an experiment and keys of several students. Out: warnings with
//! places. It must judge by keys alone, never by formulas.

use super::{Key, Slip, SlipKind};
use crate::{
    experiment::{Experiment, PlaceMap},
    report::{Problem, Problems},
};

/// A warning for each slip that uncertainty alone would accept for one of the students; the range was cut for it.
pub fn slip_warnings(experiment: &Experiment, places: &PlaceMap, keys: &[Key]) -> Problems {
    let mut found: Vec<(usize, &Slip, usize)> = Vec::new();
    for (task, slip) in keys.iter().flat_map(Key::overlaps) {
        match found.iter_mut().find(|(own, first, _)| *own == task && first.kind == slip.kind) {
            Some((_, first, count)) => {
                *count += 1;
                if slip.accepted {
                    *first = slip;
                }
            }
            None => found.push((task, slip, 1)),
        }
    }
    found.sort_by_key(|(task, ..)| *task);
    found
        .into_iter()
        .map(|(task, slip, count)| warning(experiment, places, (task, slip), (count, keys.len())))
        .collect()
}

fn warning(
    experiment: &Experiment,
    places: &PlaceMap,
    (task, slip): (usize, &Slip),
    (count, students): (usize, usize),
) -> Problem {
    let id = &experiment.tasks[task].id;
    let (what, place) = match slip.kind {
        SlipKind::Listed(index) => {
            ("this slip".to_owned(), places.value(format!("/tasks/{task}/number/slips/{index}/formula")))
        }
        SlipKind::Power(power) => {
            (format!("a slip by 10^{power}"), places.value(format!("/tasks/{task}/number/formula")))
        }
    };
    let message = format!("{what} can hardly be told from the answer of `{id}`");
    let label = format!("inside the range for {count} of {students} students, such as {}", slip.text);
    let hint = if slip.accepted {
        "it is accepted even now: add a condition that keeps the two apart, or ask for more figures"
    } else {
        "the range is cut half way to it: add a condition that keeps the two apart, or ask for more figures"
    };
    Problem::warning(message).at(place).label(label).hint(hint)
}

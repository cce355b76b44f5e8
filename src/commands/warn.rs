//! What a teacher should know of a set that could be made all the same. In: a draft. Out: warnings. It must change nothing.

use std::collections::HashMap;

use crate::{
    report::{Problem, Problems},
    set::{Crowd, Draft, Member, SetPlan},
};

/// Seats named in one warning.
const SEATS: usize = 24;

/// Sheets that could not be kept apart, and neighbours who share a version.
pub(super) fn draft(plan: &SetPlan<'_>, draft: &Draft<'_>) -> Problems {
    let crowds = draft.crowds.iter().map(|crowd| crowded(plan, crowd));
    crowds.chain(clashing(plan, draft)).collect()
}

fn crowded(plan: &SetPlan<'_>, crowd: &Crowd) -> Problem {
    let Crowd { edition, sheets, apart } = crowd;
    let edition = edition.word();
    let problem = Problem::warning(format!(
        "only {apart} of the {sheets} sheets of the edition `{edition}` could be kept apart: with the others, copied answers may \
         earn more than {} of the numeric marks",
        plan.limit
    ));
    let hint = match plan.versions {
        None => format!(
            "`--versions {apart}` makes so many and deals them so that neighbours differ; or spread the class over editions, \
             or widen the ranges under `drawn`"
        ),
        Some(_) => {
            format!("`--versions {apart}` makes versions that are all apart; `labquire audit` shows which are not")
        }
    };
    problem.hint(hint)
}

fn clashing(plan: &SetPlan<'_>, draft: &Draft<'_>) -> Option<Problem> {
    let count = plan.versions.filter(|_| !draft.clashes.is_empty())?;
    let mut pairs: Vec<String> =
        draft.clashes.iter().take(SEATS).map(|(one, other)| format!("{one} and {other}")).collect();
    if draft.clashes.len() > SEATS {
        pairs.push(format!("{} more pairs", draft.clashes.len() - SEATS));
    }
    let versions = if count == 1 { "1 version is".to_owned() } else { format!("{count} versions are") };
    let problem = Problem::warning(format!("{versions} too few for this seating: {} share one", pairs.join(", ")));
    Some(problem.hint("four versions part all neighbours, or move a student to another seat"))
}

/// Students of a printed set whose answers come out otherwise by now.
pub(super) fn changed(
    plan: &SetPlan<'_>,
    members: &[Member<'_>],
    printed: &HashMap<String, HashMap<String, String>>,
) -> Problems {
    let mut changed: Vec<Vec<&str>> = vec![Vec::new(); plan.experiment.tasks.len()];
    for member in members {
        let Some(before) = printed.get(&member.student.id) else { continue };
        let own = member.own();
        for (index, task) in plan.experiment.tasks.iter().enumerate() {
            let texts = before.get(&task.id).zip(own.key.number(index).map(|number| number.text.as_str()));
            if texts.is_some_and(|(before, now)| before.split(' ').next() != Some(now)) {
                changed[index].push(&member.student.id);
            }
        }
    }
    let mut problems = Problems::new();
    for (task, students) in plan.experiment.tasks.iter().zip(changed) {
        if !students.is_empty() {
            let message =
                format!("task `{}` has another answer than in the printed key of {}", task.id, students.join(", "));
            problems.push(Problem::warning(message).hint("this version computes it otherwise: print these keys again"));
        }
    }
    problems
}

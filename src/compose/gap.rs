//! Why a real run does not answer a task, in words. In: the reason, the sheet's edition. Out: a sentence. It must decide nothing.

use super::{Facts, prose::capital};
use crate::{class::Edition, key::Gap, measured::sought};

/// The reason in the reader's language.
pub fn gap(facts: &Facts<'_>, gap: &Gap, edition: Edition) -> String {
    let language = facts.language;
    let with = |key: &str, what: &str| language.phrase(key, &[("{what}", what)]);
    let reason = match gap {
        Gap::Blank => language.word("gap-blank").to_owned(),
        Gap::Unnoted(id) => with("gap-unnoted", &named(facts, id)),
        Gap::Needs(id) => {
            let mut tasks = facts.experiment.tasks_of(edition);
            let number = tasks.position(|(_, task)| task.id == *id).map(|place| (place + 1).to_string());
            with("gap-needs", &number.unwrap_or_else(|| format!("„{id}“")))
        }
        Gap::Unread(when) => with("gap-unread", &facts.write(when, &facts.experiment.schedule.unit)),
        Gap::NoLimit => language.word("gap-no-limit").to_owned(),
        Gap::FarFromLimit(share) => with("gap-far-from-limit", share),
        Gap::Uncertain => language.word("gap-uncertain").to_owned(),
        Gap::NoValue => language.word("gap-no-value").to_owned(),
    };
    format!("{}{} {reason}.", capital(language.word("gap")), language.word("colon"))
}

/// The name of a quantity that is noted.
fn named(facts: &Facts<'_>, id: &str) -> String {
    let sought = sought(facts.experiment);
    let found = sought.iter().find(|one| one.id == id);
    found.map_or_else(|| id.to_owned(), |one| one.name.printed_in(facts.language).into_owned())
}

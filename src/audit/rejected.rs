//! Draws that were turned down. In: a set's members. Out: counts by reason. It must draw no other student than they are.

use std::collections::BTreeSet;

use serde::Serialize;

use crate::{
    set::{Member, SetPlan},
    variant::{self, Rejections},
};

/// Draws that were turned down, by reason.
#[derive(Debug, Clone, Default, PartialEq, Eq, Serialize)]
pub struct Rejected {
    /// Draws that were made in all.
    pub draws: u32,
    /// By condition, in the definition's order: its text, and how often it did not hold.
    pub conditions: Vec<(String, u32)>,
    /// Refused by the bench.
    pub bench: u32,
    /// Too near to another's sheet.
    pub near: u32,
}

impl Rejected {
    pub(super) fn of(plan: &SetPlan<'_>, members: &[Member<'_>]) -> Self {
        let conditions = plan.experiment.definition.conditions.iter();
        let mut found =
            Self { conditions: conditions.map(|condition| (condition.holds.clone(), 0)).collect(), ..Self::default() };
        let mut seen = BTreeSet::new();
        for member in members {
            let stream = plan.stream(member.student, member.version);
            if !seen.insert(stream.clone()) {
                continue;
            }
            let attempts = member.variant.attempt;
            let Rejections { by_condition, by_bench, .. } =
                variant::rejections(plan.experiment, plan.seed, &stream, attempts);
            found.draws += attempts + 1;
            found.bench += by_bench;
            found.near += member.redrawn;
            found.conditions.iter_mut().zip(by_condition).for_each(|((_, own), more)| *own += more);
        }
        found
    }
}

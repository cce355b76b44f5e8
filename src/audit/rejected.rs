//! Draws that were turned down: until one met all conditions, then those that were too near to another's sheet. In: a set's members.
//! Out: counts by reason. It must draw no other student than they are.

use std::collections::BTreeSet;

use serde::Serialize;

use crate::{
    set::{Member, SetPlan},
    variant,
};

/// Draws that were turned down, by reason.
#[derive(Debug, Clone, Default, PartialEq, Eq, Serialize)]
pub struct Rejected {
    /// All draws that are counted here, with those that were taken.
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
            let rejections = variant::rejections(plan.experiment, plan.seed, &stream);
            // Those that met the conditions but were too near, and the one that was taken.
            found.draws += rejections.all() + member.redrawn + 1;
            found.bench += rejections.by_bench;
            found.near += member.redrawn;
            found.conditions.iter_mut().zip(rejections.by_condition).for_each(|((_, own), more)| *own += more);
        }
        found
    }
}

//! Runs from which a class can see what to expect. In: a set. Out: exact values of runs drawn like the students'.
//! It must not draw again what the students have.

use std::collections::BTreeSet;

use super::{Member, SetPlan};
use crate::{
    draw::Seed,
    key,
    variant::{self, Known, Variant, readings_of},
};

/// Runs that a band is drawn from at least.
const RUNS: usize = 24;

/// Runs of a set's own that a band is drawn from at most: by then either edge parts off its twentieth of all runs to one in a
/// hundred, √(0.05 · 0.95 / 400).
const MOST: usize = 400;

impl SetPlan<'_> {
    /// The members' runs as no instrument shows them, and further ones where these are few.
    pub(super) fn expected(&self, members: &[Member<'_>]) -> Vec<Known> {
        let mut seen = BTreeSet::new();
        let own = members.iter().filter(|member| self.versions.is_none() || seen.insert(member.version));
        let mut runs: Vec<Known> = own.take(MOST).filter_map(|member| self.exact(&member.own().variant)).collect();
        for number in runs.len()..RUNS {
            let drawn = variant::draw(self.experiment, self.seed, &format!("expected {number}"));
            runs.extend(drawn.ok().and_then(|variant| self.exact(&variant)));
        }
        runs
    }

    /// The values of a run without offset, noise and rounding, with the columns computed from them.
    fn exact(&self, variant: &Variant) -> Option<Known> {
        // Exact readings use no stream.
        let seed = Seed { set: self.seed, student: "", attempt: 0 };
        let run = (!variant.measured).then(|| variant::run_of(self.experiment, &variant.drawn))?.ok()?;
        let table = readings_of(self.experiment, &run, &seed, true);
        key::answered(self.experiment, &Variant { table, ..variant.clone() }, "").ok()
    }
}

//! Conditions that select nothing or everything. In: a sample. Out: warnings. It must not judge what is asked for.

use super::{
    Reviewer,
    sample::{DRAWS, Sample},
};
use crate::report::Problem;

impl Reviewer<'_> {
    pub(super) fn conditions(&mut self, sample: &Sample) {
        let looked_at = sample.met.len();
        if looked_at == 0 {
            let said = sample.refusal.as_deref().unwrap_or_default();
            let problem = Problem::error(format!("the bench refuses all of {DRAWS} draws: {said}"));
            let hint = "narrow the ranges below, or change `settings`";
            self.problems.push(problem.at(self.places.key("/drawn")).label("can not be run").hint(hint));
            return;
        }
        let mut never = false;
        for index in 0..self.experiment.conditions.len() {
            let met = sample.met.iter().filter(|met| met[index]).count();
            let place = format!("/conditions/{index}/holds");
            if met == 0 {
                never = true;
                let problem = Problem::error(format!("the condition holds in none of {looked_at} draws"))
                    .at(self.places.value(place))
                    .label("never true")
                    .hint("loosen it, or widen the ranges under `drawn`");
                self.problems.push(problem);
            } else if met == looked_at {
                let problem = Problem::warning(format!("the condition holds in all of {looked_at} draws"))
                    .at(self.places.value(place))
                    .label("rejects nothing")
                    .hint("tighten it so that it keeps poor readings out, or delete it");
                self.problems.push(problem);
            }
        }
        if !never && !sample.met.iter().any(|met| met.iter().all(|&met| met)) {
            let problem = Problem::error(format!("no draw of {looked_at} meets all conditions at once"))
                .at(self.places.key("/conditions"))
                .label("exclude each other")
                .hint("loosen one of them, or widen the ranges under `drawn`");
            self.problems.push(problem);
        }
    }
}

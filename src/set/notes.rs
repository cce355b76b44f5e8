//! The teacher's notes of a set. In: its members. Out: their source. It must show no more than the spans of answers.

use super::{Member, Print};
use crate::{
    compose::{self, Span},
    press::PressError,
};

impl Print<'_> {
    /// The source of the notes.
    pub(super) fn teacher(&self) -> Result<String, PressError> {
        let Some(first) = self.members.first().map(Member::own) else {
            return Err(PressError::Setting(vec!["a set without students has no notes".to_owned()]));
        };
        let answers = Span::of(self.plan.experiment.tasks.len(), self.members.iter().map(|member| member.own().key));
        let seed = self.plan.printable(self.plan.seed).unwrap_or_default();
        let runs = self.plan.expected(self.members);
        let notes = compose::teacher(
            &self.plan.facts(&first, self.plan.language),
            &self.plan.printed_class(),
            seed,
            &answers,
            &runs,
        );
        self.documents.teacher(&notes, self.printing.paper)
    }
}

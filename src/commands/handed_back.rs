//! The papers that marking gives: a page for each student, and a report of the class. In: what is marked. Out: PDFs in memory. It must not judge.

use super::Stop;
use crate::{
    compose,
    marking::Marked,
    press::{Binding, Documents, Leaf, Paper, PdfJob, Press, PressError, Sides, Standards, Work},
    set::SetPlan,
};

/// Students whose pages are bound in a volume at most.
const VOLUME: usize = 40;

/// The pages of all students with their files' names: `feedback.pdf`, or volumes of it.
pub(super) fn feedback(plan: &SetPlan<'_>, marked: Marked<'_>, paper: Paper) -> Result<Vec<(String, Vec<u8>)>, Stop> {
    let own = |error: PressError| Stop::Own(error.to_string());
    let documents = Documents::new().map_err(own)?.printed_on(Sides::One);
    let title = plan.experiment.definition.title.in_language(&plan.language.code);
    let leaf = |student: &crate::marking::MarkedStudent| -> Result<Leaf, PressError> {
        let (own, sheet) = (&marked.members[student.student], &marked.members[student.sheet]);
        let labels =
            compose::Labels { student: plan.labels(own).student, large: own.student.large, ..plan.labels(sheet) };
        let page = compose::feedback(&plan.facts(&sheet.own(), own.language), labels, student);
        documents.feedback(title, &page, paper)
    };
    let volumes: Vec<_> = marked.marking.students.chunks(VOLUME).collect();
    let files = volumes.iter().enumerate().map(|(place, students)| {
        let name = if volumes.len() > 1 { format!("feedback-{:02}.pdf", place + 1) } else { "feedback.pdf".to_owned() };
        let leaves: Vec<Leaf> = students.iter().map(leaf).collect::<Result<_, _>>()?;
        let binding = Binding { sides: Sides::One, equal: false };
        let bytes = Press::with(plan.fonts).pdf(Work::Volume(leaves, binding), &job(plan, &name))?.bytes;
        Ok((name, bytes))
    });
    files.collect::<Result<_, PressError>>().map_err(own)
}

/// The report of the class.
pub(super) fn report(plan: &SetPlan<'_>, marked: Marked<'_>, paper: Paper) -> Result<Vec<u8>, Stop> {
    let page = compose::class_report(marked, &plan.printed_class());
    let source = Documents::new().and_then(|documents| documents.class_report(&page, paper));
    let printed = source.and_then(|source| Press::with(plan.fonts).pdf(source, &job(plan, "report.pdf")));
    printed.map(|printed| printed.bytes).map_err(|error| Stop::Own(error.to_string()))
}

fn job(plan: &SetPlan<'_>, file: &str) -> PdfJob {
    let ident = [&plan.experiment.definition.id, plan.seed, &plan.roster.name, file].join("\u{1F}");
    PdfJob { ident, standards: Standards::Accessible }
}

//! The form that a teacher types answers into, `answers.csv`. In: a set. Out: a row a student, a column a task.
//! It must hold no expected answer.

use super::{Member, SetPlan};

/// What the cells of tasks hold that a student's edition lacks.
pub(super) const LACKS: &str = "x";
/// The columns behind the tasks.
pub(super) const BEHIND: [&str; 3] = ["code", "override", "reason"];

/// The form as csv with a mark of UTF-8 in front, so that spreadsheets read names rightly.
///
/// Cells of tasks that a student's edition lacks hold `x`; those of the others are empty, and the code is filled in.
pub fn answers_csv(plan: &SetPlan<'_>, members: &[Member<'_>]) -> Vec<u8> {
    let mut writer = csv::Writer::from_writer(vec![0xEF, 0xBB, 0xBF]);
    let tasks = plan.experiment.tasks.iter();
    let header = ["id", "name"].into_iter().chain(tasks.map(|task| task.id.as_str())).chain(BEHIND);
    // A vector takes every byte: writing to it cannot fail.
    let _ = writer.write_record(header);
    for member in members {
        let name = plan.printed_name(member).unwrap_or_default();
        let tasks = plan.experiment.tasks.iter();
        let own = member.own();
        let asks = |index| own.asks(plan.experiment, member.edition, index);
        let cells = tasks.enumerate().map(|(index, _)| if asks(index) { "" } else { LACKS });
        let front = [member.student.id.as_str(), name].into_iter();
        let _ = writer.write_record(front.chain(cells).chain([member.code.as_str(), "", ""]));
    }
    writer.into_inner().unwrap_or_default()
}

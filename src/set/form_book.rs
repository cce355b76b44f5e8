//! The form that a teacher types answers into, as a workbook. In: a set. Out: bytes of an xlsx file: the form, and how to fill it
//! in. It must hold no expected answer; the same set gives the same bytes.

use rust_xlsxwriter::{
    Color, DataValidation, DataValidationErrorStyle, DataValidationRule, DocProperties, ExcelDateTime, Format,
    FormatAlign, FormatBorder, FormatPattern, Workbook, Worksheet, XlsxError,
};

use super::{
    Member, SetPlan,
    form::{BEHIND, LACKS},
};
use crate::experiment::plan::TaskBody;

/// Columns before the tasks.
const FRONT: u16 = 2;
/// Rows of heads: the columns' names, and what is typed below them.
const HEADS: u32 = 2;
/// Lines of the explanation.
const LINES: usize = 7;
/// Its width in signs.
const WIDTH: usize = 90;

/// The form as a workbook.
///
/// # Errors
/// If a text is longer than a cell can hold.
pub fn answers_xlsx(plan: &SetPlan<'_>, members: &[Member<'_>]) -> Result<Vec<u8>, XlsxError> {
    let mut book = Workbook::new();
    book.set_properties(&DocProperties::new().set_creation_datetime(&ExcelDateTime::from_ymd(2000, 1, 1)?));
    form(plan, members, book.add_worksheet())?;
    explanation(plan, book.add_worksheet())?;
    book.save_to_buffer()
}

fn form(plan: &SetPlan<'_>, members: &[Member<'_>], sheet: &mut Worksheet) -> Result<(), XlsxError> {
    sheet.set_name(plan.language.word("answers"))?.set_freeze_panes(HEADS, FRONT)?.set_landscape();
    sheet.set_print_fit_to_pages(1, 0).set_repeat_rows(0, HEADS - 1)?.protect();
    heads(plan, sheet)?;
    for (row, member) in (HEADS..).zip(members) {
        student(plan, member, row, sheet)?;
    }
    choices(plan, HEADS + (members.len() as u32).max(1) - 1, sheet)?;
    // Room for what is typed; wider where a head, a name or a code needs it. Heads are bold, which fitting does not know.
    let behind = FRONT + plan.experiment.tasks.len() as u16;
    for (column, task) in (FRONT..).zip(&plan.experiment.tasks) {
        sheet.set_column_width(column, (task.id.chars().count() + 3).max(12) as f64)?;
    }
    sheet.set_column_width(0, 6)?.set_column_width(1, 20)?;
    sheet.set_column_width(behind + 1, 10)?.set_column_width(behind + 2, 30)?.autofit();
    Ok(())
}

/// The columns' names, and below each task what is typed there.
fn heads(plan: &SetPlan<'_>, sheet: &mut Worksheet) -> Result<(), XlsxError> {
    let experiment = plan.experiment;
    let head = Format::new().set_bold().set_border_bottom(FormatBorder::Medium);
    let below = Format::new().set_italic().set_border_bottom(FormatBorder::Thin);
    let tasks = experiment.tasks.iter().map(|task| task.id.as_str());
    for (column, text) in (0..).zip(["id", "name"].into_iter().chain(tasks).chain(BEHIND)) {
        sheet.write_string_with_format(0, column, text, &head)?;
    }
    for (index, (task, definition)) in experiment.tasks.iter().zip(&experiment.definition.tasks).enumerate() {
        let typed = match &task.body {
            TaskBody::Number(number) => number.unit.print(),
            _ => format!("0–{} {}", definition.marks.total(), plan.language.word("points")),
        };
        let text = match experiment.common_number(index) {
            Some(number) => {
                let (task, colon) = (plan.language.word("task"), plan.language.word("colon"));
                if typed.is_empty() { format!("{task} {number}") } else { format!("{task} {number}{colon} {typed}") }
            }
            None => typed,
        };
        sheet.write_string_with_format(1, FRONT + index as u16, text, &below)?;
    }
    Ok(())
}

fn student(plan: &SetPlan<'_>, member: &Member<'_>, row: u32, sheet: &mut Worksheet) -> Result<(), XlsxError> {
    let typed = Format::new().set_unlocked().set_border_bottom(FormatBorder::Hair);
    // A text stays what was typed: a spreadsheet makes a date of 3.4 else.
    let answer = typed.clone().set_num_format("@");
    let lacking = Format::new()
        .set_align(FormatAlign::Center)
        .set_pattern(FormatPattern::LightUp)
        .set_foreground_color(Color::RGB(0x00A0_A0A0));
    let (own, tasks) = (member.own(), &plan.experiment.tasks);
    let behind = FRONT + tasks.len() as u16;
    sheet.write_string(row, 0, &member.student.id)?;
    sheet.write_string(row, 1, plan.printed_name(member).unwrap_or_default())?;
    for (column, index) in (FRONT..).zip(0..tasks.len()) {
        if own.asks(plan.experiment, member.edition, index) {
            sheet.write_blank(row, column, &answer)?;
        } else {
            sheet.write_string_with_format(row, column, LACKS, &lacking)?;
        }
    }
    sheet.write_string_with_format(row, behind, &member.code, &answer)?;
    // Not a text: as one, no number would count as whole.
    sheet.write_blank(row, behind + 1, &typed)?;
    sheet.write_blank(row, behind + 2, &answer)?;
    let most = i32::try_from(own.key.marks_of(plan.experiment, member.edition)).unwrap_or(i32::MAX);
    let by_hand = DataValidation::new()
        .allow_whole_number(DataValidationRule::Between(0, most))
        .set_error_message(format!("0–{most}"))?;
    sheet.add_data_validation(row, behind + 1, row, behind + 1, &by_hand)?;
    Ok(())
}

/// Points to choose from, where tasks are marked by ticks; ticks may be typed as well.
fn choices(plan: &SetPlan<'_>, last: u32, sheet: &mut Worksheet) -> Result<(), XlsxError> {
    let experiment = plan.experiment;
    for (column, (task, definition)) in (FRONT..).zip(experiment.tasks.iter().zip(&experiment.definition.tasks)) {
        if matches!(task.body, TaskBody::Number(_)) {
            continue;
        }
        let counts: Vec<String> = (0..=definition.marks.total()).map(|count| count.to_string()).collect();
        let choice = DataValidation::new()
            .allow_list_strings(&counts)?
            .set_error_style(DataValidationErrorStyle::Warning)
            .set_error_message(plan.language.word("form-4"))?;
        sheet.add_data_validation(HEADS, column, last, column, &choice)?;
    }
    Ok(())
}

fn explanation(plan: &SetPlan<'_>, sheet: &mut Worksheet) -> Result<(), XlsxError> {
    let wrapped = Format::new().set_text_wrap().set_align(FormatAlign::Top);
    sheet.set_name(plan.language.word("explanation"))?.set_column_width(0, WIDTH as f64)?;
    sheet.set_landscape().set_print_fit_to_pages(1, 0);
    for line in 1..=LINES {
        let key = format!("form-{line}");
        let (row, text) = (line as u32 - 1, plan.language.word(&key));
        // Not every spreadsheet makes room for wrapped lines by itself; some room is lost where words end early.
        let lines = (text.chars().count() + 1).div_ceil(WIDTH - 15);
        sheet.write_string_with_format(row, 0, text, &wrapped)?.set_row_height(row, 16 * lines as u32)?;
    }
    Ok(())
}

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
    let experiment = plan.experiment;
    let head = Format::new().set_bold().set_border_bottom(FormatBorder::Medium);
    let below = Format::new().set_italic().set_border_bottom(FormatBorder::Thin);
    // A text stays what was typed: a spreadsheet makes a date of 3.4 else.
    let answer = Format::new().set_num_format("@").set_unlocked().set_border_bottom(FormatBorder::Hair);
    let lacking = Format::new()
        .set_align(FormatAlign::Center)
        .set_pattern(FormatPattern::LightUp)
        .set_foreground_color(Color::RGB(0x00A0_A0A0));
    let tasks = experiment.tasks.len() as u16;
    sheet.set_name(plan.language.word("answers"))?.set_freeze_panes(HEADS, FRONT)?.set_landscape();
    sheet.set_print_fit_to_pages(1, 0).set_repeat_rows(0, HEADS - 1)?.protect();
    for (column, text) in (0..).zip(["id", "name"]) {
        sheet.write_string_with_format(0, column, text, &head)?;
    }
    for (column, (task, definition)) in (FRONT..).zip(experiment.tasks.iter().zip(&experiment.definition.tasks)) {
        sheet.write_string_with_format(0, column, &task.id, &head)?;
        let typed = match &task.body {
            TaskBody::Number(number) => number.unit.print(),
            _ => format!("0–{} {}", definition.marks.total(), plan.language.word("points")),
        };
        sheet.write_string_with_format(1, column, typed, &below)?;
    }
    for (column, text) in (FRONT + tasks..).zip(BEHIND) {
        sheet.write_string_with_format(0, column, text, &head)?;
    }
    for (row, member) in (HEADS..).zip(members) {
        sheet.write_string(row, 0, &member.student.id)?;
        sheet.write_string(row, 1, plan.printed_name(member).unwrap_or_default())?;
        for (column, task) in (FRONT..).zip(&experiment.tasks) {
            if task.editions.contains(&member.edition) {
                sheet.write_blank(row, column, &answer)?;
            } else {
                sheet.write_string_with_format(row, column, LACKS, &lacking)?;
            }
        }
        sheet.write_string_with_format(row, FRONT + tasks, &member.code, &answer)?;
        sheet.write_blank(row, FRONT + tasks + 1, &answer)?;
        sheet.write_blank(row, FRONT + tasks + 2, &answer)?;
    }
    let last = HEADS + (members.len() as u32).max(1) - 1;
    for (column, (task, definition)) in (FRONT..).zip(experiment.tasks.iter().zip(&experiment.definition.tasks)) {
        if !matches!(task.body, TaskBody::Number(_)) {
            let most = definition.marks.total();
            let counts: Vec<String> = (0..=most).map(|count| count.to_string()).collect();
            let choice = DataValidation::new()
                .allow_list_strings(&counts)?
                .set_error_style(DataValidationErrorStyle::Warning)
                .set_error_message(format!("0–{most}"))?;
            sheet.add_data_validation(HEADS, column, last, column, &choice)?;
        }
    }
    let most: u32 = experiment.definition.tasks.iter().map(|task| task.marks.total()).sum();
    let by_hand = DataValidation::new().allow_whole_number(DataValidationRule::Between(0, most as i32));
    sheet.add_data_validation(HEADS, FRONT + tasks + 1, last, FRONT + tasks + 1, &by_hand)?;
    sheet.set_column_width(0, 8)?.set_column_width(1, 28)?.set_column_range_width(FRONT, FRONT + tasks + 1, 13)?;
    sheet.set_column_width(FRONT + tasks + 2, 30)?;
    Ok(())
}

fn explanation(plan: &SetPlan<'_>, sheet: &mut Worksheet) -> Result<(), XlsxError> {
    let wrapped = Format::new().set_text_wrap().set_align(FormatAlign::Top);
    sheet.set_name(plan.language.word("explanation"))?.set_column_width(0, 100)?;
    for line in 1..=LINES {
        let key = format!("form-{line}");
        sheet.write_string_with_format(line as u32 - 1, 0, plan.language.word(&key), &wrapped)?;
    }
    Ok(())
}

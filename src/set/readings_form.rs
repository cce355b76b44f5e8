//! The form that groups type their readings into, `readings-form.csv` and `.xlsx`. In: a set before it is measured. Out: rows of the
//! schedule for each group, a sheet a group in the workbook. It must hold no reading.

use std::collections::BTreeSet;

use rust_xlsxwriter::{
    Color, DocProperties, ExcelDateTime, Format, FormatBorder, FormatPattern, Workbook, Worksheet, XlsxError,
};

use super::{SetPlan, placing::natural};
use crate::{
    measured::{Role, Sought, sought},
    quantity::rounding,
};

/// Column of the group.
const WHO: &str = "group";
/// Lines of the explanation.
const LINES: usize = 4;
/// Its width in signs.
const WIDTH: usize = 90;
/// Signs of a sheet's name at most, and those that it can't hold.
const SHEET_NAME: usize = 31;
const NO_NAME: [char; 7] = ['[', ']', ':', '*', '?', '/', '\\'];

/// The groups of a class in their natural order; one without a name where no row names a group.
fn groups(plan: &SetPlan<'_>) -> Vec<String> {
    let named: BTreeSet<&String> = plan.roster.students.iter().filter_map(|student| student.group.as_ref()).collect();
    let mut groups: Vec<String> = named.into_iter().cloned().collect();
    groups.sort_by(|one, other| natural(one, other));
    if groups.is_empty() { vec![String::new()] } else { groups }
}

/// The moments of the schedule as printed, in English.
fn moments(plan: &SetPlan<'_>) -> Vec<String> {
    let values = plan.experiment.schedule.values;
    (0..values.count).map(|row| rounding::to_places(values.value(row), values.places).text).collect()
}

/// The form as csv with a mark of UTF-8 in front, so that spreadsheets read units rightly.
pub fn readings_csv(plan: &SetPlan<'_>) -> Vec<u8> {
    let sought = sought(plan.experiment);
    let mut writer = csv::Writer::from_writer(vec![0xEF, 0xBB, 0xBF]);
    // A vector takes every byte: writing to it cannot fail.
    let _ = writer.write_record(std::iter::once(WHO.to_owned()).chain(sought.iter().map(Sought::head)));
    for group in groups(plan) {
        for moment in moments(plan) {
            let rest = sought.iter().skip(1).map(|_| String::new());
            let _ = writer.write_record([group.clone(), moment].into_iter().chain(rest));
        }
    }
    writer.into_inner().unwrap_or_default()
}

/// The form as a workbook: a sheet a group, and how to fill it in.
///
/// # Errors
/// If a text is longer than a cell can hold.
pub fn readings_xlsx(plan: &SetPlan<'_>) -> Result<Vec<u8>, XlsxError> {
    let mut book = Workbook::new();
    book.set_properties(&DocProperties::new().set_creation_datetime(&ExcelDateTime::from_ymd(2000, 1, 1)?));
    let mut taken = BTreeSet::new();
    for group in groups(plan) {
        sheet(plan, &group, &mut taken, book.add_worksheet())?;
    }
    let explanation = book.add_worksheet();
    explanation.set_name(plan.language.word("explanation"))?.set_column_width(0, WIDTH as f64)?.set_landscape();
    let wrapped = Format::new().set_text_wrap();
    for line in 1..=LINES {
        let key = format!("readings-form-{line}");
        let text = plan.language.word(&key);
        let lines = (text.chars().count() + 1).div_ceil(WIDTH - 15);
        let row = line as u32 - 1;
        explanation.write_string_with_format(row, 0, text, &wrapped)?.set_row_height(row, 16 * lines as u32)?;
    }
    book.save_to_buffer()
}

fn sheet(
    plan: &SetPlan<'_>,
    group: &str,
    taken: &mut BTreeSet<String>,
    sheet: &mut Worksheet,
) -> Result<(), XlsxError> {
    let title = Format::new().set_bold().set_border_bottom(FormatBorder::Medium);
    let typed = Format::new().set_unlocked().set_border_bottom(FormatBorder::Hair).set_num_format("@");
    let idle = Format::new().set_pattern(FormatPattern::LightUp).set_foreground_color(Color::RGB(0x00A0_A0A0));
    sheet
        .set_name(sheet_name(plan, group, taken))?
        .set_freeze_panes(1, 2)?
        .set_landscape()
        .set_print_fit_to_pages(1, 0);
    let sought = sought(plan.experiment);
    sheet.write_string_with_format(0, 0, WHO, &title)?;
    for (column, one) in (1..).zip(&sought) {
        sheet.write_string_with_format(0, column, one.head(), &title)?;
        sheet.set_column_width(column, (one.head().chars().count() + 3).max(10) as f64)?;
    }
    for (row, moment) in (1..).zip(moments(plan)) {
        sheet.write_string(row, 0, group)?;
        for (column, one) in (1..).zip(&sought) {
            match one.role {
                Role::Schedule => sheet.write_number(row, column, moment.parse::<f64>().unwrap_or_default())?,
                Role::Once if row > 1 => sheet.write_blank(row, column, &idle)?,
                Role::Column(_) | Role::Once => sheet.write_blank(row, column, &typed)?,
            };
        }
    }
    Ok(())
}

/// A name that a sheet can have and no other one has.
fn sheet_name(plan: &SetPlan<'_>, group: &str, taken: &mut BTreeSet<String>) -> String {
    let word = plan.language.word("bench-group");
    let whole = if group.is_empty() { plan.language.word("readings").to_owned() } else { format!("{word} {group}") };
    let plain: String = whole.chars().filter(|sign| !NO_NAME.contains(sign)).take(SHEET_NAME - 3).collect();
    let mut name = plain.trim_matches('\'').to_owned();
    let mut number = 2;
    while !taken.insert(name.to_lowercase()) {
        name = format!("{plain} {number}");
        number += 1;
    }
    name
}

//! Marks as a workbook. In: what is marked. Out: bytes of an xlsx file with totals that go on computing, and the tasks'
//! statistics on a second sheet. The same marks give the same bytes.

use rust_xlsxwriter::{
    ConditionalFormat2ColorScale, ConditionalFormatType, DocProperties, ExcelDateTime, Format, FormatAlign,
    FormatBorder, Formula, Workbook, Worksheet, XlsxError, utility::row_col_to_cell,
};

use super::Marked;

/// Where marks are lost: also a clear grey on a copier.
const LOST: u32 = 0x00E0_A030;
const FULL: u32 = 0x00FF_FFFF;
/// Columns before the tasks.
const FRONT: [&str; 3] = ["id", "name", "code"];

impl Marked<'_> {
    /// The marks as a workbook.
    ///
    /// # Errors
    /// If a text is longer than a cell can hold.
    pub fn xlsx(self) -> Result<Vec<u8>, XlsxError> {
        let mut book = Workbook::new();
        book.set_properties(&DocProperties::new().set_creation_datetime(&ExcelDateTime::from_ymd(2000, 1, 1)?));
        self.marks(book.add_worksheet())?;
        self.items(book.add_worksheet())?;
        book.save_to_buffer()
    }

    fn marks(self, sheet: &mut Worksheet) -> Result<(), XlsxError> {
        let word = |key: &'static str| self.language.word(key);
        let head = Format::new().set_bold().set_border_bottom(FormatBorder::Medium).set_text_wrap();
        let centred = Format::new().set_align(FormatAlign::Center);
        let percent = Format::new().set_num_format("0 %");
        let tasks = &self.experiment.definition.tasks;
        let (first, last) = (FRONT.len() as u16, (FRONT.len() + tasks.len() - 1) as u16);
        let (total, out_of, share, fixed, reason) = (last + 1, last + 2, last + 3, last + 4, last + 5);
        sheet.set_name(word("marks"))?.set_freeze_panes(2, 2)?.set_landscape().set_print_fit_to_pages(1, 0);
        sheet.set_repeat_rows(0, 1)?;
        for (column, text) in FRONT.iter().enumerate() {
            sheet.write_string_with_format(0, column as u16, *text, &head)?;
        }
        for (place, task) in tasks.iter().enumerate() {
            let column = first + place as u16;
            sheet.write_string_with_format(0, column, &task.id, &head)?;
            sheet.write_number_with_format(1, column, f64::from(task.marks.total()), &centred)?;
        }
        let last_row = self.marking.students.len() as u32 + 1;
        for (column, text) in
            [(total, "total"), (out_of, "out_of"), (share, "%"), (fixed, "override"), (reason, "reason")]
        {
            sheet.write_string_with_format(0, column, text, &head)?;
        }
        for (row, student) in (2_u32..).zip(&self.marking.students) {
            let own = self.members[student.student].student;
            sheet.write_string(row, 0, &own.id)?;
            sheet.write_string(row, 1, if self.names { own.name.as_str() } else { "" })?;
            sheet.write_string(row, 2, &self.members[student.sheet].code)?;
            for (column, attempt) in (first..).zip(&student.attempts) {
                match attempt {
                    Some(attempt) => {
                        sheet.write_number_with_format(row, column, f64::from(attempt.got), &centred)?;
                    }
                    None => {
                        sheet.write_string_with_format(row, column, "x", &centred)?;
                    }
                }
            }
            let cell = |column: u16| row_col_to_cell(row, column);
            let (hand, marks) = (cell(fixed), format!("{}:{}", cell(first), cell(last)));
            let sum = Formula::new(format!("=IF(ISNUMBER({hand}),{hand},SUM({marks}))"));
            sheet.write_formula(row, total, sum.set_result(student.total().to_string()))?;
            sheet.write_number(row, out_of, f64::from(student.out_of()))?;
            let part = f64::from(student.total()) / f64::from(student.out_of().max(1));
            let quotient = Formula::new(format!("={}/{}", cell(total), cell(out_of))).set_result(part.to_string());
            sheet.write_formula_with_format(row, share, quotient, &percent)?;
            if let Some(by_hand) = &student.fixed {
                sheet.write_number(row, fixed, f64::from(by_hand.marks))?;
                sheet.write_string(row, reason, &by_hand.reason)?;
            }
        }
        for (place, task) in tasks.iter().enumerate() {
            let column = first + place as u16;
            let scale = ConditionalFormat2ColorScale::new()
                .set_minimum(ConditionalFormatType::Number, 0)
                .set_minimum_color(LOST)
                .set_maximum(ConditionalFormatType::Number, task.marks.total())
                .set_maximum_color(FULL);
            sheet.add_conditional_format(2, column, last_row.max(2), column, &scale)?;
        }
        sheet.set_column_width(0, 8)?.set_column_width(1, 28)?.set_column_width(2, 12)?;
        sheet.set_column_range_width(first, share, 9)?.set_column_width(reason, 30)?;
        Ok(())
    }

    /// The tasks' statistics.
    fn items(self, sheet: &mut Worksheet) -> Result<(), XlsxError> {
        let word = |key: &'static str| self.language.word(key);
        let head = Format::new().set_bold().set_border_bottom(FormatBorder::Medium).set_text_wrap();
        let two = Format::new().set_num_format("0.00");
        sheet.set_name(word("items"))?.set_freeze_panes(1, 1)?.set_landscape();
        for (column, key) in ["task", "marks", "students", "facility", "discrimination"].into_iter().enumerate() {
            sheet.write_string_with_format(0, column as u16, word(key), &head)?;
        }
        let scores = self.scores();
        for (place, task) in self.experiment.definition.tasks.iter().enumerate() {
            let (row, item) = (place as u32 + 1, scores.item(place));
            sheet.write_string(row, 0, &task.id)?;
            sheet.write_number(row, 1, f64::from(task.marks.total()))?;
            sheet.write_number(row, 2, item.students as f64)?;
            for (column, value) in [(3, item.facility), (4, item.discrimination)] {
                if let Some(value) = value {
                    sheet.write_number_with_format(row, column, value, &two)?;
                }
            }
        }
        let row = self.experiment.definition.tasks.len() as u32 + 2;
        sheet.write_string(row, 0, word("alpha"))?;
        if let Some(alpha) = scores.alpha() {
            sheet.write_number_with_format(row, 1, alpha, &two)?;
        }
        sheet.set_column_width(0, 24)?.set_column_range_width(1, 4, 15)?;
        Ok(())
    }
}

//! The table of readings. In: readings and computed columns. Out: the table as data.
//! Cells that a student fills in must stay empty on the sheet, but for the first that the support edition works.

use super::{Facts, Page, View, prose::over_unit};
use crate::{
    class::Edition,
    experiment::plan::TaskBody,
    key::{Answer, Gap},
    quantity::rounding,
    sheet::{Cell, Run, Table},
};

/// Rows of a column that the support edition shows worked.
const WORKED: usize = 2;

/// The table with a column for each column task of the edition.
pub(super) fn table(facts: &Facts<'_>, page: Page) -> Table {
    let Page { edition, view, .. } = page;
    let experiment = facts.experiment;
    let notation = &facts.language.notation;
    let mut heads = vec![over_unit(experiment.schedule.symbol.math(), &experiment.schedule.unit.print())];
    heads.extend(experiment.columns.iter().map(|column| over_unit(column.symbol.math(), &column.unit.print())));
    let mut rows: Vec<Vec<Cell>> = (0..facts.variant.table.rows())
        .map(|row| facts.variant.table.row(row).map(|text| Cell::Text(notation.number(text))).collect())
        .collect();
    if rows.is_empty() && view == View::Worksheet {
        rows = planned(facts, heads.len());
    }
    let mut notes = Vec::new();
    for (index, task) in experiment.tasks_of(edition) {
        let TaskBody::Column(plan) = &task.body else { continue };
        let cells = match facts.key.answers.get(index) {
            Some(Answer::Column(cells)) => cells,
            // Nothing is read yet: the column is to be filled in all the same.
            Some(Answer::Open(Gap::Blank)) => {
                heads.push(over_unit(plan.symbol.math(), &plan.unit.print()));
                rows.iter_mut().for_each(|line| line.push(Cell::Empty));
                continue;
            }
            _ => continue,
        };
        heads.push(over_unit(plan.symbol.math(), &plan.unit.print()));
        let worked = if edition == Edition::Support { WORKED } else { 0 };
        if worked > 0 && notes.is_empty() {
            notes.push(vec![Run::from(facts.language.word("rows-worked"))]);
        }
        for (row, (line, cell)) in rows.iter_mut().zip(cells).enumerate() {
            let text = notation.number(&cell.text);
            line.push(match view {
                _ if row < worked => Cell::Text(text),
                View::Worksheet => Cell::Empty,
                View::Key => Cell::Filled(text),
            });
        }
    }
    Table { heads, rows, notes }
}

/// The rows of the schedule, to be filled in.
fn planned(facts: &Facts<'_>, columns: usize) -> Vec<Vec<Cell>> {
    let values = facts.experiment.schedule.values;
    let row = |row| {
        let at = rounding::to_places(values.value(row), values.places).text;
        let mut line = vec![Cell::Text(facts.language.notation.number(&at))];
        line.resize(columns, Cell::Empty);
        line
    };
    (0..values.count).map(row).collect()
}

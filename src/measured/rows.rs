//! Rows of a file to runs. In: cells under their heads. Out: a run for each group or student, with what is of no use told. It must
//! drop nothing in silence.

use indexmap::IndexMap;

use super::{
    MeasuredRow, MeasuredRun, Reading, Role, Sought,
    columns::{Columns, Slot, Target, converted},
    number::{Found, in_unit, reading, trimmed},
    stamp,
};
use crate::{
    experiment::Experiment,
    quantity::{Unit, rounding},
    report::{Place, Problem, Problems},
    table::{Cell, Row},
    variant::Stated,
};

/// Rows with something of no use that are told one by one.
const MOST_TOLD: usize = 12;
/// Rows that a run needs.
const LEAST_ROWS: usize = 3;
/// Share of rows out of order above which the whole column is doubted.
const DISORDER: f64 = 0.2;

/// What belongs to one group while rows are gathered.
#[derive(Default)]
struct Gathered<'a> {
    rows: Vec<&'a Row>,
}

/// Reads the rows under a head.
pub(super) struct RowReader<'a> {
    pub(super) experiment: &'a Experiment,
    pub(super) sought: &'a [Sought<'a>],
    pub(super) columns: &'a Columns,
    /// What the file tells before its head.
    pub(super) told: &'a [Stated],
    /// When the run starts, in the unit of the schedule and the time of the file.
    pub(super) start: Option<f64>,
    pub(super) problems: Problems,
    /// Rows with something of no use so far.
    pub(super) useless: usize,
}

impl RowReader<'_> {
    /// The runs in the order in which they begin; `sheet` names them where no column does.
    pub(super) fn runs(&mut self, rows: &[Row], sheet: &str) -> Vec<MeasuredRun> {
        let who = self.columns.of(Target::Who).map(|slot| slot.place);
        let mut groups: IndexMap<String, Gathered<'_>> = IndexMap::new();
        let mut last = sheet.to_owned();
        for row in rows {
            if let Some(name) = who.and_then(|place| row.get(place)).filter(|cell| !cell.text.is_empty()) {
                last.clone_from(&name.text);
            }
            groups.entry(last.clone()).or_default().rows.push(row);
        }
        let runs: Vec<MeasuredRun> = groups.iter().filter_map(|(who, found)| self.run(who, &found.rows)).collect();
        if self.useless > MOST_TOLD {
            let more = self.useless - MOST_TOLD;
            self.problems.push(Problem::warning(format!("{more} more readings are of no use and are left out")));
        }
        runs
    }

    fn run(&mut self, who: &str, rows: &[&Row]) -> Option<MeasuredRun> {
        let first = rows.first()?.iter().find(|cell| !cell.text.is_empty()).or_else(|| rows[0].first())?;
        let told = self.once(rows);
        let at = self.places(rows)?;
        let mut kept: Vec<MeasuredRow> = Vec::new();
        let mut disorder: Vec<&Cell> = Vec::new();
        let schedule = self.slot(0)?.place;
        for (row, at) in rows.iter().zip(at) {
            let cells = self.cells(row);
            // A form's row that nobody filled in is no row.
            if cells.iter().all(Option::is_none) {
                continue;
            }
            let Some(at) = at else { continue };
            let cell = row.get(schedule)?;
            if kept.last().is_some_and(|before| at.value <= before.at.value) {
                disorder.push(cell);
                continue;
            }
            kept.push(MeasuredRow { at, cells, place: cell.place.clone() });
        }
        self.order(&disorder, kept.len(), who)?;
        self.swapped_with_schedule(&kept)?;
        let whole = kept.iter().filter(|row| row.whole().is_some()).count();
        if kept.is_empty() {
            return None;
        }
        if whole < LEAST_ROWS {
            let rows = if whole == 1 { "row" } else { "rows" };
            let problem = Problem::error(format!("{} has {whole} whole {rows} of readings", named(who)));
            let hint = format!("a run needs {LEAST_ROWS} rows with a reading in each column");
            self.problems.push(problem.at(first.place.clone()).label("this run").hint(hint));
            return None;
        }
        Some(MeasuredRun { who: who.to_owned(), place: first.place.clone(), rows: kept, told })
    }

    fn slot(&self, sought: usize) -> Option<&Slot> {
        self.columns.of(Target::Sought(sought))
    }

    /// When or where each row was read, from zero at the start of the run.
    fn places(&mut self, rows: &[&Row]) -> Option<Vec<Option<Reading>>> {
        let schedule = &self.experiment.schedule;
        let slot = self.slot(0)?.clone();
        let texts: Vec<&str> =
            rows.iter().map(|row| row.get(slot.place).map_or("", |cell| cell.text.as_str())).collect();
        let stamps = texts.iter().filter(|text| stamp::is_stamp(text)).count();
        let second = Unit::parse("s").ok().filter(|second| second.dimension() == schedule.unit.dimension());
        let (end, beginning) = (schedule.values.value(schedule.values.count - 1), schedule.values.value(0));
        let mut found: Vec<Option<Reading>> = match second {
            Some(second) if 2 * stamps > rows.len() => {
                let expected = (end - beginning) * schedule.unit.scale();
                let seconds = stamp::seconds(&texts, expected);
                seconds.into_iter().map(|time| Some(in_unit(time?, 3, &second, &self.sought[0]))).collect()
            }
            _ => rows.iter().map(|row| self.cell(row, &slot, 0)).collect(),
        };
        let first = found.iter().flatten().map(|at| at.value).next()?;
        // A logger counts from when it was switched on.
        let shift = self.start.or_else(|| (first > end).then_some(first - beginning));
        if let Some(shift) = shift {
            if self.start.is_none() {
                let problem = Problem::notice(format!("the file's own time starts at {}", rounding::plain(first)));
                let hint = "the first row counts as the start; say `--start` if the run began later";
                self.problems.push(problem.at(slot.head.place.clone()).label("this column").hint(hint));
            }
            let moved = |at: Reading| {
                let value = at.value - shift;
                let tiny = schedule.values.step * 1e-6;
                let text = rounding::to_places(value, rounding::places(&at.text)).text;
                (value >= beginning - tiny)
                    .then(|| Reading { value: value.max(beginning), text: trimmed(&text, schedule.values.places) })
            };
            found = found.into_iter().map(|at| moved(at?)).collect();
        }
        Some(found)
    }

    /// The readings of a row in the order of the experiment's columns.
    fn cells(&mut self, row: &Row) -> Vec<Option<Reading>> {
        let columns: Vec<(usize, Slot)> = self
            .sought
            .iter()
            .enumerate()
            .filter(|(_, one)| matches!(one.role, Role::Column(_)))
            .filter_map(|(place, _)| Some((place, self.slot(place)?.clone())))
            .collect();
        columns.iter().map(|(place, slot)| self.cell(row, slot, *place)).collect()
    }

    /// A reading, or nothing; what is of no use is told.
    fn cell(&mut self, row: &Row, slot: &Slot, sought: usize) -> Option<Reading> {
        let cell = row.get(slot.place)?;
        match reading(cell, &slot.unit, &self.sought[sought]) {
            Found::Reading(found) => Some(found),
            Found::Missing => None,
            Found::Useless(found, hint) => {
                self.useless += 1;
                if self.useless <= MOST_TOLD {
                    let problem = Problem::warning(found).at(cell.place.clone()).label("left out");
                    self.problems.push(problem.hint(hint));
                }
                None
            }
        }
    }

    /// What was noted once: in the rows of the run, else before the head of the file.
    fn once(&mut self, rows: &[&Row]) -> Vec<Stated> {
        let mut told = Vec::new();
        for (place, one) in self.sought.iter().enumerate().filter(|(_, one)| one.role == Role::Once) {
            let slot = self.slot(place).cloned();
            let noted = slot.and_then(|slot| self.noted(rows, &slot, place));
            let found = noted.map(|found| found.stated(one));
            told.extend(found.or_else(|| self.told.iter().find(|stated| stated.id == one.id).cloned()));
        }
        told
    }

    /// The first number of a column that is noted once; another one later is told.
    fn noted(&mut self, rows: &[&Row], slot: &Slot, sought: usize) -> Option<Reading> {
        let mut first: Option<(Reading, Place)> = None;
        for row in rows {
            let Some(found) = self.cell(row, slot, sought) else { continue };
            match &first {
                None => first = Some((found, row.get(slot.place)?.place.clone())),
                Some((noted, place)) if noted.value != found.value => {
                    let message =
                        format!("`{}` is noted as {} and as {}", self.sought[sought].id, noted.text, found.text);
                    let problem = Problem::warning(message).at(row.get(slot.place)?.place.clone());
                    let problem = problem.label("another number").also(place.clone(), "the first counts");
                    self.problems.push(problem.hint("it is noted once for a run: keep one of the two"));
                    break;
                }
                Some(_) => {}
            }
        }
        first.map(|(found, _)| found)
    }

    /// Some rows out of order are left out; many mean that the column is another.
    fn order(&mut self, disorder: &[&Cell], kept: usize, who: &str) -> Option<()> {
        let first = disorder.first();
        let Some(first) = first else { return Some(()) };
        let head = self.sought[0].head();
        let share = disorder.len() as f64 / (disorder.len() + kept) as f64;
        if share > DISORDER {
            let problem = Problem::error(format!("the column `{head}` of {} does not ascend", named(who)));
            let hint = "check whether two columns are swapped, or two runs stand under one name";
            self.problems.push(problem.at(first.place.clone()).label("not above the row before").hint(hint));
            return None;
        }
        for cell in disorder {
            let problem = Problem::warning(format!("`{}` does not come after the row before", cell.text));
            let problem = problem.at(cell.place.clone()).label("this row is left out");
            self.problems.push(problem.hint(format!("correct `{head}` in this row")));
        }
        Some(())
    }

    /// Whether another column holds what belongs under the schedule's head.
    fn swapped_with_schedule(&mut self, rows: &[MeasuredRow]) -> Option<()> {
        let values = self.experiment.schedule.values;
        let planned = |value: f64| (0..values.count).any(|row| (values.value(row) - value).abs() <= values.step * 1e-6);
        let share = |found: &dyn Fn(&MeasuredRow) -> Option<f64>| {
            let hits = rows.iter().filter(|row| found(row).is_some_and(planned)).count();
            hits as f64 / rows.len().max(1) as f64
        };
        if rows.len() <= LEAST_ROWS || share(&|row| Some(row.at.value)) > 0.2 {
            return Some(());
        }
        let columns = self.sought.iter().enumerate().filter_map(|(place, one)| match one.role {
            Role::Column(column) => Some((place, column)),
            _ => None,
        });
        for (place, column) in columns {
            // A column that counts in the steps of the schedule, while the schedule's own does not.
            let slot = self.slot(place)?;
            let in_file = |row: &MeasuredRow| {
                let value = row.cells.get(column)?.as_ref()?.value;
                Some(converted(value, self.sought[place].unit, &slot.unit))
            };
            if share(&in_file) > 0.8 {
                let head = self.sought[0].head();
                let message = format!("the columns `{head}` and `{}` look swapped", slot.head.text);
                let problem = Problem::error(message).at(slot.head.place.clone()).label("counts like the schedule");
                self.problems.push(problem.hint("swap the heads of the two columns"));
                return None;
            }
        }
        Some(())
    }
}

/// A run in words.
pub(super) fn named(who: &str) -> String {
    if who.is_empty() { "the run".to_owned() } else { format!("the run of `{who}`") }
}

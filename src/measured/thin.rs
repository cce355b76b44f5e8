//! The rows of the table from a run. In: a run. Out: a variant with the rows that a sheet prints, and what was left out. It must
//! average nothing: a row holds what the instruments showed at one moment.

use super::{MeasuredRow, MeasuredRun, rows::named};
use crate::{
    experiment::Experiment,
    quantity::rounding,
    readings::{Column, Table},
    report::{Problem, Problems},
    variant::{Stated, Variant},
};

/// A run with so many times the rows of the schedule is a logger's.
const LOGGED: usize = 2;

/// The data of a sheet with what one group read.
pub fn variant(experiment: &Experiment, run: &MeasuredRun) -> (Variant, Problems) {
    let schedule = &experiment.schedule;
    let planned: Vec<f64> = (0..schedule.values.count).map(|row| schedule.values.value(row)).collect();
    let whole: Vec<&MeasuredRow> = run.rows.iter().filter(|row| row.whole().is_some()).collect();
    let mut problems = incomplete(experiment, run);
    let logged = whole.len() > LOGGED * planned.len();
    let nearest = |wanted: f64| {
        let distance = |row: &&&MeasuredRow| (row.at.value - wanted).abs();
        let row = whole.iter().min_by(|one, other| distance(one).total_cmp(&distance(other)));
        row.copied().filter(|row| schedule.is_near(row.at.value, wanted))
    };
    let rows: Vec<(String, f64, &MeasuredRow)> = if logged {
        let rows = planned.iter().filter_map(|&wanted| {
            let row = nearest(wanted)?;
            let places = schedule.values.places;
            // The moment is printed as planned where it is that to the printed place.
            let at = [places, places + 1].map(|places| rounding::to_places(row.at.value, places));
            let near = (row.at.value - wanted).abs() <= rounding::last_place(&at[0].text) / 2.0;
            let at = if near { rounding::to_places(wanted, places) } else { at[1].clone() };
            Some((at.text, at.value, row))
        });
        rows.collect()
    } else {
        whole.iter().map(|row| (row.at.text.clone(), row.at.value, *row)).collect()
    };
    problems.extend(unread(experiment, run, &rows, &planned));
    let mut columns = vec![Column {
        id: schedule.id.clone(),
        texts: rows.iter().map(|(text, ..)| text.clone()).collect(),
        values: rows.iter().map(|(_, value, _)| *value).collect(),
    }];
    for (place, column) in experiment.columns.iter().enumerate() {
        let readings: Vec<_> = rows.iter().filter_map(|(_, _, row)| row.cells.get(place)?.as_ref()).collect();
        columns.push(Column {
            id: column.id.clone(),
            texts: readings.iter().map(|reading| reading.text.clone()).collect(),
            values: readings.iter().map(|reading| reading.value).collect(),
        });
    }
    let told = told(experiment, &run.told);
    (Variant { drawn: Vec::new(), told, table: even(Table { columns }), measured: true, attempt: 0 }, problems)
}

/// What a sheet tells, in its order: quantities that were noted, and those that are the same for all.
pub(crate) fn told(experiment: &Experiment, noted: &[Stated]) -> Vec<Stated> {
    let noted = |id: &str| noted.iter().find(|stated| stated.id == id).cloned();
    let drawn = experiment.drawn.iter().filter(|drawn| drawn.told).filter_map(|drawn| noted(&drawn.id));
    let given = experiment.given.iter().map(|given| Stated {
        id: given.id.clone(),
        value: given.value.value,
        text: given.value.text.clone(),
        unit: given.value.unit.clone(),
    });
    drawn.chain(given).chain(experiment.once.iter().filter_map(|once| noted(&once.id))).collect()
}

/// All readings of a column with as many decimals as the best of them has: a spreadsheet drops zeros.
fn even(mut table: Table) -> Table {
    for column in &mut table.columns {
        let places = column.texts.iter().map(|text| rounding::places(text)).max().unwrap_or(0);
        for (text, value) in column.texts.iter_mut().zip(&mut column.values) {
            let printed = rounding::to_places(text.parse().unwrap_or(*value), places);
            (*text, *value) = (printed.text, printed.value);
        }
    }
    table
}

/// Rows of a typed run that lack a reading.
fn incomplete(experiment: &Experiment, run: &MeasuredRun) -> Problems {
    let logged = run.rows.len() > LOGGED * experiment.schedule.values.count as usize;
    let lacking = run.rows.iter().filter(|row| !logged && row.whole().is_none());
    lacking
        .map(|row| {
            let missing = row.cells.iter().zip(&experiment.columns).filter(|(cell, _)| cell.is_none());
            let missing: Vec<String> = missing.map(|(_, column)| format!("`{}`", column.id)).collect();
            let problem = Problem::warning(format!("{} lacks {} here", named(&run.who), missing.join(", ")));
            problem.at(row.place.clone()).label("this row is left out").hint("type the reading if it was taken")
        })
        .collect()
}

/// Moments of the schedule at which nothing was read.
fn unread(
    experiment: &Experiment,
    run: &MeasuredRun,
    rows: &[(String, f64, &MeasuredRow)],
    planned: &[f64],
) -> Option<Problem> {
    let schedule = &experiment.schedule;
    let near = |wanted: &&f64| !rows.iter().any(|(_, at, _)| schedule.is_near(*at, **wanted));
    let lacking: Vec<String> =
        planned.iter().filter(near).map(|&wanted| rounding::to_places(wanted, schedule.values.places).text).collect();
    let unit = schedule.unit.print();
    (!lacking.is_empty()).then(|| {
        let message = format!("{} has no reading at {} {unit}", named(&run.who), lacking.join(", "));
        let problem = Problem::notice(message.trim_end().to_owned()).at(run.place.clone()).label("begins here");
        problem.hint("the sheet shows the rows that were read; tasks that need another are left out of the total")
    })
}

//! What instruments show of a run. In: an experiment, true states, a seed. Out: the table, and what is read once.
//! It must not look at what was drawn.

use super::Stated;
use crate::{
    bench::Run,
    draw::Seed,
    experiment::{Experiment, plan::ReadQuantity},
    quantity::rounding,
    readings::{Column, Table},
};

/// The places of the table's rows, in the unit of the bench's variable.
pub fn schedule_of(experiment: &Experiment) -> Vec<f64> {
    let schedule = &experiment.schedule;
    let values = (0..schedule.values.count).map(|row| schedule.values.value(row));
    values.map(|value| schedule.bench_unit.from_si(schedule.unit.to_si(value))).collect()
}

/// The table that a student's instruments give; `exact` leaves out offset, noise and rounding.
pub fn readings_of(experiment: &Experiment, run: &Run, seed: &Seed<'_>, exact: bool) -> Table {
    let schedule = &experiment.schedule;
    let values: Vec<f64> = (0..schedule.values.count).map(|row| schedule.values.value(row)).collect();
    let texts = values.iter().map(|&value| rounding::to_places(value, schedule.values.places).text).collect();
    let mut columns = vec![Column { id: schedule.id.clone(), texts, values }];
    columns.extend(experiment.columns.iter().map(|column| read(column, run, usize::MAX, seed, exact)));
    Table { columns }
}

/// What is read once, in the first row.
pub(super) fn once_of(experiment: &Experiment, run: &Run, seed: &Seed<'_>) -> Vec<Stated> {
    let once = experiment.once.iter().filter_map(|quantity| {
        let Column { id, mut texts, values } = read(quantity, run, 1, seed, false);
        Some(Stated { id, value: *values.first()?, text: texts.pop()?, unit: quantity.unit.clone() })
    });
    once.collect()
}

/// What the student's instrument shows of a state, in the first `most` rows.
fn read(quantity: &ReadQuantity, run: &Run, most: usize, seed: &Seed<'_>, exact: bool) -> Column {
    // The instrument in hand stays the same however often the quantities are drawn.
    let issued = quantity.instrument.issue(&Seed { attempt: 0, ..*seed }, &quantity.instrument_name);
    let mut noise = seed.stream(&format!("noise {}", quantity.id));
    let truths = run.columns[quantity.state].iter().take(most);
    let truths = truths.map(|&truth| quantity.unit.from_si(quantity.state_unit.to_si(truth)));
    let (texts, values) = if exact {
        truths.map(|truth| (rounding::plain(truth), truth)).unzip()
    } else {
        truths.map(|truth| issued.read(truth, &mut noise)).map(|reading| (reading.text, reading.value)).unzip()
    };
    Column { id: quantity.id.clone(), texts, values }
}

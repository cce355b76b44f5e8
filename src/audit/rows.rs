//! Which readings an answer rests on. In: printed readings. Out: rows that move an answer, and what noise does to it.
//! It must look at nothing but what is printed.

use crate::{
    experiment::Experiment,
    formula::{Value, Values},
    key,
    variant::Variant,
};

/// What the readings mean for one answer.
#[derive(Debug, Clone, Copy, Default, PartialEq)]
pub(super) struct Reliance {
    /// Rows of the table that move it.
    pub(super) rows: u32,
    /// Its standard deviation from noise and resolution of the readings alone, in SI.
    pub(super) noise: f64,
}

/// For each task of the experiment, what its answer rests on; tasks without a number rest on nothing.
///
/// Each reading in turn is moved by the repeatability of its instrument, and all answers are computed again, each from those
/// before it.
pub(super) fn reliance(experiment: &Experiment, variant: &Variant, plain: &impl Values) -> Vec<Reliance> {
    let mut found = vec![Reliance::default(); experiment.tasks.len()];
    let number = |known: &dyn Fn(&str) -> Option<f64>| -> Vec<Option<f64>> {
        experiment.tasks.iter().map(|task| known(&task.id)).collect()
    };
    let before = number(&|id| plain.value_of(id).map(Value::number));
    let mut moved = variant.clone();
    for row in 0..variant.table.rows() {
        let mut touched = vec![false; experiment.tasks.len()];
        for read in &experiment.columns {
            let place = moved.table.columns.iter().position(|column| column.id == read.id);
            let Some(place) = place.filter(|&place| row < moved.table.columns[place].values.len()) else { continue };
            let kept = moved.table.columns[place].values[row];
            moved.table.columns[place].values[row] = kept + read.instrument.repeatability();
            if let Ok(known) = key::answered(experiment, &moved, "") {
                let after = number(&|id| known.value_of(id).map(Value::number));
                for (index, (before, after)) in before.iter().zip(after).enumerate() {
                    let (Some(before), Some(after)) = (before, after) else { continue };
                    let change = after - before;
                    if change.is_finite() && change.abs() > 1e-12 * before.abs() {
                        touched[index] = true;
                        found[index].noise += change * change;
                    }
                }
            }
            moved.table.columns[place].values[row] = kept;
        }
        found.iter_mut().zip(touched).for_each(|(one, touched)| one.rows += u32::from(touched));
    }
    found.iter_mut().for_each(|one| one.noise = libm::sqrt(one.noise));
    found
}

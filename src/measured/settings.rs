//! What the bench of a real run is set to. In: what was noted. Out: settings; what nobody noted has the experiment's own value.

use crate::{
    bench::{BenchError, Settings},
    experiment::Experiment,
    variant::{self, Stated},
};

/// The settings of a bench beside which these quantities were noted: drawn quantities as noted, else in the middle of their
/// range; quantities read once where they are an input.
///
/// # Errors
/// A [`BenchError`] for a name that the bench does not have.
pub fn settings(experiment: &Experiment, told: &[Stated]) -> Result<Settings, BenchError> {
    let noted = |id: &str| told.iter().find(|stated| stated.id == id);
    let drawn: Vec<Stated> = experiment
        .drawn
        .iter()
        .map(|drawn| match noted(&drawn.id) {
            Some(stated) => stated.clone(),
            None => Stated {
                id: drawn.id.clone(),
                value: drawn.range.value(drawn.range.count / 2),
                text: String::new(),
                unit: drawn.unit.clone(),
            },
        })
        .collect();
    let mut settings = variant::settings_of(experiment, &drawn)?;
    for (once, input) in experiment.read_inputs() {
        if let Some(stated) = noted(&once.id) {
            settings.set(input.name, once.state_unit.from_si(once.unit.to_si(stated.value)))?;
        }
    }
    Ok(settings)
}

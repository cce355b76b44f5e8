//! What a set starts from: a definition and a class, or a set that is printed already. In: options. Out: everything that a plan
//! borrows. It must draw nothing.

use std::{
    collections::{BTreeMap, HashMap},
    path::{Path, PathBuf},
};

use super::{Console, Stop, args, load};
use crate::{
    class::Roster,
    copying::CopyLimit,
    experiment::Experiment,
    fit::BenchFile,
    report::{Place, Problem},
    set::{self, Held, Readings, Recorded},
};

/// What a set starts from.
pub(super) struct Basis {
    pub(super) experiment: Experiment,
    pub(super) roster: Roster,
    pub(super) seed: String,
    pub(super) versions: Option<usize>,
    pub(super) names: bool,
    /// What copying may pay at most.
    pub(super) limit: CopyLimit,
    /// What students have already.
    pub(super) held: BTreeMap<String, Held>,
    /// Their answers as printed, by student and task.
    pub(super) answers: HashMap<String, HashMap<String, String>>,
    /// The bench file that the experiment's bench was set by.
    pub(super) bench: Option<String>,
    /// The output folder, and whether what stands there may be replaced.
    pub(super) target: PathBuf,
    pub(super) force: bool,
}

impl Basis {
    /// The basis of a set that `make` is to make.
    pub(super) fn of(args: &args::Make, console: &mut Console<'_>) -> Result<Self, Stop> {
        match &args.extend {
            Some(folder) => Self::printed(args, folder, console),
            None => Self::fresh(args, console),
        }
    }

    fn fresh(args: &args::Make, console: &mut Console<'_>) -> Result<Self, Stop> {
        let mut experiment = load::experiment(&args.experiment, console)?;
        let bench = args.bench.as_deref().map(BenchFile::read).transpose()?;
        if let Some(bench) = &bench {
            bench.apply(&mut experiment)?;
        }
        let roster = load::class(args.class.as_deref(), console)?;
        let id = &experiment.definition.id;
        let seed = args.seed.clone().unwrap_or_else(|| format!("{id} {}", roster.name));
        let part = args.part.map(|part| format!("-part-{}-of-{}", part.index, part.of)).unwrap_or_default();
        let place = || PathBuf::from("out").join(format!("{id}-{}{part}", roster.name));
        let target = args.out.clone().unwrap_or_else(place);
        Ok(Self {
            experiment,
            roster,
            seed,
            versions: args.versions.shared(),
            names: !args.no_names,
            limit: args.copied,
            held: BTreeMap::new(),
            answers: HashMap::new(),
            bench: bench.map(|bench| bench.text().to_owned()),
            target,
            force: args.force,
        })
    }

    /// A printed set with the new students of a class file behind its own.
    fn printed(args: &args::Make, folder: &Path, console: &mut Console<'_>) -> Result<Self, Stop> {
        let Recorded { experiment, seed, mut roster, versions, held, names, limit, answers, source, bench } =
            set::recorded(folder)?;
        if source != Readings::Drawn.word() {
            let problem = Problem::error("the set holds no drawn readings that could be added to");
            let problem = problem.at(Place::File(folder.display().to_string()));
            return Err(problem.hint("make it anew with the whole class, with `--blank` or `--measured FILE`").into());
        }
        let (asked, id) = (load::experiment(&args.experiment, console)?.definition.id, &experiment.definition.id);
        if asked != *id {
            let problem = Problem::error(format!("the set is of the experiment `{id}`, not of `{asked}`"));
            let problem = problem.at(Place::File(folder.display().to_string()));
            return Err(problem.hint(format!("write `labquire make {id} --extend {}`", folder.display())).into());
        }
        if let Some(path) = &args.class {
            let class = load::class(Some(path), console)?;
            if class.students.iter().all(|student| held.contains_key(&student.id)) {
                let problem = Problem::notice(format!("all students of class `{}` are in the set already", class.name));
                console.problems(&[problem.hint("the set is printed again as it stands")]);
            }
            for student in class.students {
                match roster.students.iter_mut().find(|own| own.id == student.id) {
                    // A set without names has recorded none.
                    Some(own) if !names => own.name = student.name,
                    Some(_) => {}
                    None => roster.students.push(student),
                }
            }
        }
        // A reprint of some must not take the place of the whole.
        let whole = args.only.is_empty();
        let place = || if whole { folder.to_owned() } else { beside(folder, "reprint") };
        Ok(Self {
            experiment,
            roster,
            seed,
            versions,
            names: names && !args.no_names,
            limit,
            held,
            answers,
            bench,
            target: args.out.clone().unwrap_or_else(place),
            force: args.force || (whole && args.out.is_none()),
        })
    }
}

/// A folder beside another, with a word behind its name.
fn beside(folder: &Path, word: &str) -> PathBuf {
    let mut name = folder.file_name().unwrap_or_default().to_owned();
    name.push(format!("-{word}"));
    folder.with_file_name(name)
}

//! A printed set, read back from its record. In: the folder of a set. Out: experiment, class and each student's readings as
//! printed. It must take nothing from anywhere else: a definition may have changed since.

use std::{
    collections::{BTreeMap, HashMap},
    path::Path,
    sync::Arc,
};

use serde::Deserialize;

use super::Held;
use crate::{
    class::{Code, Edition, Roster, Seat, Student},
    copying::CopyLimit,
    experiment::{self, Experiment},
    fit::BenchFile,
    quantity::Unit,
    readings::{Column, Table},
    report::{Place, Problem, Problems, Source},
    variant::{Stated, Variant},
};

/// The format of records that this program reads and writes.
pub(super) const FORMAT: u32 = 1;

/// A set as it was printed.
pub struct Recorded {
    /// The experiment as it was then.
    pub experiment: Experiment,
    /// The seed.
    pub seed: String,
    /// The class in the order of versions, or of printing where versions are shared.
    pub roster: Roster,
    /// How many versions there are; without, every student has readings of their own.
    pub versions: Option<usize>,
    /// What students have, by their ids.
    pub held: BTreeMap<String, Held>,
    /// Whether names were printed.
    pub names: bool,
    /// What copying may pay at most.
    pub limit: CopyLimit,
    /// The answers as printed, by student and task.
    pub answers: HashMap<String, HashMap<String, String>>,
    /// Whether its readings were drawn, are still to be taken, or were taken: the word of [`super::Readings::word`].
    pub source: String,
    /// The text of the bench file that it was made with.
    pub bench: Option<String>,
}

/// The record as it lies in the file: only what is read back.
#[derive(Deserialize)]
struct File {
    format: u32,
    definition: DefinitionText,
    seed: String,
    class: String,
    versions: Option<usize>,
    names: bool,
    copy_limit: CopyLimit,
    #[serde(default = "drawn")]
    source: String,
    bench: Option<String>,
    students: Vec<Row>,
}

/// What records say that were made before there were others.
fn drawn() -> String {
    super::Readings::Drawn.word().to_owned()
}

#[derive(Deserialize)]
struct DefinitionText {
    file: String,
    text: String,
}

#[derive(Deserialize)]
struct Row {
    id: String,
    name: Option<String>,
    edition: Edition,
    lang: String,
    seat: Option<String>,
    group: Option<String>,
    version: usize,
    code: String,
    print: String,
    parameters: HashMap<String, Text>,
    given: HashMap<String, Text>,
    readings: Readings,
    answers: HashMap<String, Answer>,
    draw: u32,
    redrawn: u32,
    apart: bool,
}

#[derive(Deserialize)]
struct Text {
    text: String,
}

#[derive(Deserialize)]
struct Readings {
    columns: Vec<ColumnId>,
    rows: Vec<Vec<String>>,
}

#[derive(Deserialize)]
struct ColumnId {
    id: String,
}

#[derive(Deserialize)]
struct Answer {
    text: Option<String>,
}

/// Reads the record of a set.
///
/// # Errors
/// Everything that keeps the set from being read: no record, another format, a definition that is no longer understood,
/// a student whose entry is not whole.
pub fn recorded(folder: &Path) -> Result<Recorded, Problems> {
    let path = folder.join(super::RECORD);
    let name = path.display().to_string();
    let at = || Place::File(name.clone());
    let text = std::fs::read_to_string(&path).map_err(|error| {
        let problem = Problem::error(format!("`{}` can not be read as a class set: {error}", folder.display()));
        vec![problem.hint("name the folder that `labquire make` wrote; it holds `set.json`").at(at())]
    })?;
    let mut file = parse(&Source::new(&*name, text)).map_err(|problem| vec![problem])?;
    if file.format != FORMAT {
        let problem = Problem::error(format!("the record has the format {}, this program reads {FORMAT}", file.format));
        return Err(vec![problem.at(at()).hint("use the version of labquire that made the set")]);
    }
    let source = Source::new(format!("{} in {name}", file.definition.file), file.definition.text);
    let (mut experiment, _) = experiment::load(&source)?;
    if let Some(bench) = &file.bench {
        BenchFile::parse(&Source::new(format!("bench in {name}"), bench.clone()))?.apply(&mut experiment)?;
    }
    let taken = file.source != drawn();
    let mut problems = Problems::new();
    let mut held = BTreeMap::new();
    let mut students = Vec::new();
    let mut answers = HashMap::new();
    let mut rows = std::mem::take(&mut file.students);
    rows.sort_by_key(|row| row.version);
    for row in rows {
        match row.held(&experiment, taken) {
            Some(one) => held.insert(row.id.clone(), one),
            None => {
                let problem = Problem::error(format!("the entry of student `{}` is not whole", row.id)).at(at());
                problems.push(problem.hint("take the record from a copy of the set; it is not meant to be edited"));
                continue;
            }
        };
        answers.insert(
            row.id.clone(),
            row.answers.iter().filter_map(|(task, answer)| Some((task.clone(), answer.text.clone()?))).collect(),
        );
        students.push(row.student());
    }
    if !problems.is_empty() {
        return Err(problems);
    }
    let roster = Roster { name: std::mem::take(&mut file.class), students };
    let File { seed, versions, names, copy_limit: limit, source, bench, .. } = file;
    Ok(Recorded { experiment, seed, roster, versions, held, names, limit, answers, source, bench })
}

fn parse(source: &Arc<Source>) -> Result<File, Problem> {
    serde_json::from_str(&source.text).map_err(|error| {
        let lines = source.text.split_inclusive('\n').take(error.line().saturating_sub(1)).map(str::len);
        let at = source.boundary(lines.sum::<usize>() + error.column().saturating_sub(1));
        let sign = source.text[at..].chars().next().map_or(0, char::len_utf8);
        Problem::error("the record can not be read")
            .at(Place::Text(source.clone(), at..at + sign))
            .label(error.to_string())
            .hint("it was made by another version, or changed by hand: make the set anew with `labquire make`")
    })
}

impl Row {
    fn student(self) -> Student {
        Student {
            name: self.name.unwrap_or_else(|| self.id.clone()),
            id: self.id,
            edition: Some(self.edition),
            seat: self.seat.as_deref().and_then(Seat::parse),
            group: self.group,
            lang: Some(self.lang),
            large: self.print == "large",
        }
    }

    /// What the student has; nothing where a part is missing or is no number. Of readings that were `taken` only what was
    /// noted is there.
    fn held(&self, experiment: &Experiment, taken: bool) -> Option<Held> {
        let drawn = experiment.drawn.iter().map(|drawn| stated(&self.parameters, &drawn.id, &drawn.unit));
        let told = experiment.drawn.iter().filter(|drawn| drawn.told).map(|drawn| (&drawn.id, &drawn.unit));
        let given = experiment.given.iter().map(|given| (&given.id, &given.value.unit));
        let once = experiment.once.iter().map(|once| (&once.id, &once.unit));
        let told = told.chain(given).chain(once).map(|(id, unit)| stated(&self.given, id, unit));
        let variant = Variant {
            drawn: if taken { Vec::new() } else { drawn.collect::<Option<_>>()? },
            told: if taken { told.flatten().collect() } else { told.collect::<Option<_>>()? },
            table: self.readings.table(experiment)?,
            measured: taken,
            attempt: self.draw,
        };
        let code = Code::parse(&self.code).ok()?;
        (self.version > 0).then_some(Held {
            code,
            version: self.version,
            variant: Arc::new(variant),
            redrawn: self.redrawn,
            apart: self.apart,
        })
    }
}

impl Readings {
    /// The table, if it has the columns of the experiment and every cell is a number.
    fn table(&self, experiment: &Experiment) -> Option<Table> {
        let ids = std::iter::once(&experiment.schedule.id).chain(experiment.columns.iter().map(|column| &column.id));
        if !ids.eq(self.columns.iter().map(|column| &column.id)) {
            return None;
        }
        let column = |(place, column): (usize, &ColumnId)| {
            let texts: Vec<String> = self.rows.iter().map(|row| row.get(place).cloned()).collect::<Option<_>>()?;
            let values = texts.iter().map(|text| text.parse().ok()).collect::<Option<_>>()?;
            Some(Column { id: column.id.clone(), texts, values })
        };
        Some(Table { columns: self.columns.iter().enumerate().map(column).collect::<Option<_>>()? })
    }
}

/// A quantity as printed: its number in front of its unit.
fn stated(from: &HashMap<String, Text>, id: &str, unit: &Unit) -> Option<Stated> {
    let text = &from.get(id)?.text;
    let number = text.split(' ').next()?;
    Some(Stated { id: id.to_owned(), value: number.parse().ok()?, text: number.to_owned(), unit: unit.clone() })
}

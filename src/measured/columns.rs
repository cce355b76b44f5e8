//! The heads of a file's columns. In: a row of cells. Out: which column holds what, in which unit. It must read no number.
//!
//! A head names a quantity by its id, symbol or name in any language, with its unit behind a stroke, in brackets or behind `in`.
//! A head that names nothing known is taken by its unit where only one column can be meant.

use super::{Role, Sought};
use crate::{
    language::Language,
    quantity::{Kind, Unit},
    report::{Problem, Problems},
    table::{Cell, Row},
};

/// Heads of the column that says whose run it is (English, German, French, Spanish).
const WHO: [&str; 10] =
    ["group", "gruppe", "groupe", "grupo", "id", "student", "schüler", "schülerin", "élève", "alumno"];
/// Heads of a column of times that loggers write.
const CLOCK: [&str; 16] = [
    "time",
    "timestamp",
    "time stamp",
    "date time",
    "datetime",
    "date/time",
    "elapsed",
    "elapsed time",
    "zeit",
    "zeitstempel",
    "uhrzeit",
    "datum/zeit",
    "temps",
    "heure",
    "tiempo",
    "hora",
];

/// What stands before the readings' heads in what `labquire simulate` prints.
const READ: &str = "read ";

/// What a column of the file holds.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Target {
    /// The group, or the student's id.
    Who,
    /// A quantity, by its place among those sought.
    Sought(usize),
}

/// A column that is read.
#[derive(Debug, Clone)]
pub(super) struct Slot {
    /// Its place in the file.
    pub(super) place: usize,
    /// What it holds.
    pub(super) target: Target,
    /// The unit that its numbers are in.
    pub(super) unit: Unit,
    /// Its head.
    pub(super) head: Cell,
}

/// The columns that are read.
#[derive(Debug, Clone, Default)]
pub(super) struct Columns(pub(super) Vec<Slot>);

impl Columns {
    /// The column of a quantity.
    pub(super) fn of(&self, target: Target) -> Option<&Slot> {
        self.0.iter().find(|slot| slot.target == target)
    }
}

/// A head in parts.
struct Head<'a> {
    cell: &'a Cell,
    name: String,
    unit: Option<String>,
}

/// Whether a row heads a table of this experiment: it names the schedule's column and one of the readings, or has a column
/// that can only be one.
pub(super) fn is_head(row: &Row, sought: &[Sought<'_>]) -> bool {
    let found = columns(row, sought, &mut Problems::new());
    // A head with a wrong unit is one all the same, and is told.
    let by_name = row.iter().filter_map(|cell| named(&Head::of(cell, sought).name, sought));
    let all: Vec<usize> = found
        .0
        .iter()
        .filter_map(|slot| if let Target::Sought(at) = slot.target { Some(at) } else { None })
        .chain(by_name)
        .collect();
    let has = |role: &dyn Fn(Role) -> bool| all.iter().any(|&at| role(sought[at].role));
    has(&|role| role == Role::Schedule) && has(&|role| matches!(role, Role::Column(_)))
}

/// The columns of a head row; what can't be matched is told.
pub(super) fn columns(row: &Row, sought: &[Sought<'_>], problems: &mut Problems) -> Columns {
    let mut columns = Columns::default();
    let mut left: Vec<(usize, Head<'_>)> = Vec::new();
    // What `labquire simulate` prints has true states beside the readings.
    let simulated = row.iter().any(|cell| cell.text.starts_with(READ));
    let heads = row.iter().enumerate().filter(|(_, cell)| !simulated || cell.text.starts_with(READ));
    for (place, cell) in heads.filter(|(_, cell)| !cell.text.is_empty()) {
        let head = Head::of(cell, sought);
        let named = if WHO.contains(&head.name.to_lowercase().as_str()) {
            Some(Target::Who)
        } else {
            named(&head.name, sought).map(Target::Sought)
        };
        match named {
            Some(target) if columns.of(target).is_none() => {
                columns.0.extend(slot(place, &head, target, sought, problems));
            }
            Some(target) => {
                let first = columns.of(target).map(|slot| slot.head.place.clone());
                let problem = Problem::error(format!("the column `{}` stands twice", cell.text));
                let problem = problem.at(cell.place.clone()).label("the second").hint("keep one of the two");
                problems.push(match first {
                    Some(first) => problem.also(first, "the first"),
                    None => problem,
                });
            }
            None => left.push((place, head)),
        }
    }
    by_unit(left, sought, &mut columns, problems);
    columns
}

/// Matches heads without a known name by their units, where nothing else can be meant.
fn by_unit(left: Vec<(usize, Head<'_>)>, sought: &[Sought<'_>], columns: &mut Columns, problems: &mut Problems) {
    let alike = |unit: &Unit, wanted: &Unit| unit.dimension() == wanted.dimension();
    let units: Vec<Option<Unit>> = left.iter().map(|(_, head)| head.unit.as_deref().and_then(unit_of)).collect();
    for (index, (place, head)) in left.iter().enumerate() {
        let candidates = || {
            let unit = units[index].as_ref()?;
            let rivals = units.iter().flatten().filter(|other| alike(other, unit)).count();
            let mut free = sought.iter().enumerate().filter(|(at, one)| {
                one.role != Role::Once && alike(unit, one.unit) && columns.of(Target::Sought(*at)).is_none()
            });
            let only = free.next()?;
            (rivals == 1 && free.next().is_none()).then_some(only)
        };
        match candidates() {
            Some((at, one)) => {
                let notice = Problem::notice(format!("the column `{}` was taken for `{}`", head.cell.text, one.id));
                problems.push(
                    notice
                        .at(head.cell.place.clone())
                        .label("the only one with such a unit")
                        .hint(format!("head it `{}` if that is wrong", one.head())),
                );
                columns.0.extend(slot(*place, head, Target::Sought(at), sought, problems));
            }
            None => {
                let heads: Vec<String> = sought.iter().map(Sought::head).collect();
                let notice = Problem::notice(format!("the column `{}` is not read", head.cell.text));
                problems.push(
                    notice
                        .at(head.cell.place.clone())
                        .label("nothing of this experiment")
                        .hint(format!("columns that are read: group, {}", heads.join(", "))),
                );
            }
        }
    }
}

fn slot(place: usize, head: &Head<'_>, target: Target, sought: &[Sought<'_>], problems: &mut Problems) -> Option<Slot> {
    let Target::Sought(at) = target else {
        return Some(Slot { place, target, unit: Unit::one(), head: head.cell.clone() });
    };
    let wanted = sought[at].unit;
    let unit = match &head.unit {
        None => wanted.clone(),
        Some(text) => match unit_of(text) {
            Some(unit) if unit.dimension() == wanted.dimension() => unit,
            found => {
                let message = match found {
                    Some(_) => format!("the unit `{text}` is not one of `{}`", sought[at].id),
                    None => format!("`{text}` is no unit"),
                };
                let problem = Problem::error(message).at(head.cell.place.clone());
                problems.push(
                    problem
                        .label(format!("expected a unit like `{}`", wanted.print()))
                        .hint(format!("head the column `{}`", sought[at].head())),
                );
                return None;
            }
        },
    };
    Some(Slot { place, target, unit, head: head.cell.clone() })
}

/// The quantity that a name stands for: by id or symbol, by name, and last by id without regard to case.
fn named(name: &str, sought: &[Sought<'_>]) -> Option<usize> {
    let lower = name.to_lowercase();
    let exact =
        |one: &Sought<'_>| one.id == name || one.symbol.plain() == name || one.symbol.plain().replace(' ', "_") == name;
    let worded = |one: &Sought<'_>| one.name.entries().any(|(_, words)| words.to_lowercase() == lower);
    let clock = |one: &Sought<'_>| one.role == Role::Schedule && is_time(one.unit) && CLOCK.contains(&lower.as_str());
    // Symbols tell `T` from `t`; where no two ids differ in case alone, it does not matter.
    let loose = |one: &Sought<'_>| one.id.to_lowercase() == lower;
    let only = |found: &dyn Fn(&Sought<'_>) -> bool| {
        let mut places = sought.iter().enumerate().filter(|(_, one)| found(one)).map(|(place, _)| place);
        places.next().filter(|_| places.next().is_none())
    };
    only(&exact).or_else(|| only(&worded)).or_else(|| only(&clock)).or_else(|| only(&loose))
}

fn is_time(unit: &Unit) -> bool {
    Unit::parse("s").is_ok_and(|second| second.dimension() == unit.dimension())
}

impl<'a> Head<'a> {
    /// Parts a head such as `T / °C`, `T [°C]`, `T (°C)`, `Zeit in s`, `time_s`.
    fn of(cell: &'a Cell, sought: &[Sought<'_>]) -> Self {
        let text = cell.text.trim_start_matches(READ).trim();
        let bracketed = [('[', ']'), ('(', ')')].into_iter().find_map(|(open, close)| {
            let inner = text.strip_suffix(close)?;
            let at = inner.find(open)?;
            let name = inner[..at].trim();
            // Brackets behind a stroke belong to the unit, as in `G / kWh/(m² d)`.
            (!name.is_empty() && !name.contains('/')).then(|| (name, inner[at + 1..].trim()))
        });
        let behind_dash = || text.rsplit_once('_').filter(|(_, unit)| unit_of(unit).is_some());
        let parted = || text.split_once(" in ").or_else(|| text.split_once('/')).or_else(behind_dash);
        let known_whole = CLOCK.contains(&text.to_lowercase().as_str()) || named(text, sought).is_some();
        let (name, unit) = match bracketed {
            _ if known_whole => (text, None),
            Some((name, unit)) => (name, Some(unit)),
            None => match parted() {
                Some((name, unit)) => (name.trim(), Some(unit.trim())),
                None => (text, None),
            },
        };
        Self { cell, name: name.to_owned(), unit: unit.filter(|unit| !unit.is_empty()).map(str::to_owned) }
    }
}

/// A unit as people and loggers write it.
fn unit_of(text: &str) -> Option<Unit> {
    let text = text.trim();
    let bare =
        text.strip_prefix('(').and_then(|inner| inner.strip_suffix(')')).unwrap_or(text).trim_end_matches('.').trim();
    let known = match bare.to_lowercase().as_str() {
        "c" | "degc" | "deg c" | "deg. c" | "º" | "ºc" | "celsius" => "°C",
        "sec" | "secs" | "second" | "seconds" | "sek" | "sekunden" | "secondes" | "segundos" => "s",
        "minute" | "minutes" | "minuten" | "minutos" => "min",
        "hour" | "hours" | "std" | "stunden" | "heures" | "horas" => "h",
        _ => bare,
    };
    Unit::parse(known).ok()
}

/// A number of one unit in another of its kind; a temperature on a scale may stand for one in kelvins.
pub(super) fn converted(value: f64, from: &Unit, to: &Unit) -> f64 {
    if from == to {
        return value;
    }
    match (from.kind(), to.kind()) {
        (Kind::Plain, Kind::Point) => to.from_si(value * from.scale()),
        (Kind::Point, Kind::Plain) => from.to_si(value) / to.scale(),
        _ => to.from_si(from.to_si(value)),
    }
}

/// The languages that names are looked up in are those of the definition; numbers are read in the notation of one whose
/// decimal sign they show.
pub(super) fn notation_of(text: &str) -> Option<&'static Language> {
    let last = text.rfind(['.', ','])?;
    let decimal = &text[last..=last];
    Language::all().iter().find(|language| language.notation.decimal == decimal)
}

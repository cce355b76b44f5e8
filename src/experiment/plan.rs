//! A checked experiment, ready to be drawn, read and keyed. In: nothing but checked parts. Out: what every later pass needs.
//! Nothing in it may still fail for a reason that the definition could have been blamed for.

use std::sync::Arc;

use super::Definition;
use crate::{
    bench::{Bench, Input},
    class::Edition,
    draw::Range,
    formula::{Node, Symbol},
    quantity::{
        Quantity, Unit,
        rounding::{self, Rounded},
    },
    readings::Instrument,
    report::Source,
};

/// A checked experiment.
pub struct Experiment {
    /// The file that it comes from.
    pub source: Arc<Source>,
    /// Its texts and everything that needs no checking.
    pub definition: Definition,
    /// The bench.
    pub bench: &'static dyn Bench,
    /// Fixed inputs of the bench: name and value in the input's unit.
    pub settings: Vec<(String, f64)>,
    /// Drawn quantities, in the file's order.
    pub drawn: Vec<DrawnQuantity>,
    /// Given quantities, in the file's order.
    pub given: Vec<GivenQuantity>,
    /// The schedule's own column.
    pub schedule: SchedulePlan,
    /// The columns that are read.
    pub columns: Vec<ReadQuantity>,
    /// What is read once.
    pub once: Vec<ReadQuantity>,
    /// Conditions on a good variant, in the file's order.
    pub conditions: Vec<Node>,
    /// Inputs that a real run can tell, the most important first.
    pub fittable: Vec<FittablePlan>,
    /// When likely causes of a strange run are named, in the file's order.
    pub causes: Vec<Node>,
    /// Tasks, in the file's order.
    pub tasks: Vec<TaskPlan>,
}

/// A quantity that is drawn.
pub struct DrawnQuantity {
    /// Its name in formulas.
    pub id: String,
    /// Its symbol.
    pub symbol: Symbol,
    /// Its values, in `unit`.
    pub range: Range,
    /// The unit that it is printed in.
    pub unit: Unit,
    /// The bench's input that it sets.
    pub input: BenchInput,
    /// Whether the student is told.
    pub told: bool,
}

/// A quantity that is the same for all.
pub struct GivenQuantity {
    /// Its name in formulas.
    pub id: String,
    /// Its symbol.
    pub symbol: Symbol,
    /// Its value.
    pub value: Quantity,
    /// The bench's input that it sets.
    pub input: Option<BenchInput>,
}

/// An input of the bench with its unit.
pub struct BenchInput {
    /// The input's name.
    pub name: String,
    /// The unit that the bench takes it in.
    pub unit: Unit,
}

/// The column that says when, or where, a row is read.
pub struct SchedulePlan {
    /// Its name in formulas.
    pub id: String,
    /// Its symbol.
    pub symbol: Symbol,
    /// The unit that it is printed in.
    pub unit: Unit,
    /// Its values in that unit.
    pub values: Range,
    /// The unit in which the bench takes them.
    pub bench_unit: Unit,
}

/// How far from its moment a real run's row may be read, in steps of the schedule (common practice, no source).
const NEAR: f64 = 0.25;

impl SchedulePlan {
    /// Whether a row counts as read at a value of the schedule; both in the schedule's unit.
    pub fn is_near(&self, at: f64, wanted: f64) -> bool {
        (at - wanted).abs() <= NEAR * self.values.step
    }
}

/// Something that an instrument reads.
pub struct ReadQuantity {
    /// Its name in formulas.
    pub id: String,
    /// Its symbol.
    pub symbol: Symbol,
    /// Place of the state among the bench's states.
    pub state: usize,
    /// The unit of that state.
    pub state_unit: Unit,
    /// The unit that it is printed in.
    pub unit: Unit,
    /// The instrument's name.
    pub instrument_name: String,
    /// The instrument, in `unit`.
    pub instrument: Instrument,
    /// The readings that it can show, in `unit`; without ends where the definition states none.
    pub span: (f64, f64),
}

/// An input of the bench that a real run can tell.
pub struct FittablePlan {
    /// The input.
    pub input: BenchInput,
    /// Its symbol.
    pub symbol: Symbol,
    /// The unit that it is printed in.
    pub unit: Unit,
    /// The values that are sensible, in the input's unit.
    pub within: (f64, f64),
}

/// A task.
pub struct TaskPlan {
    /// Its id, which later formulas use.
    pub id: String,
    /// Editions that it stands in.
    pub editions: Vec<Edition>,
    /// How it is answered.
    pub body: TaskBody,
}

/// How a task is answered.
pub enum TaskBody {
    /// By a number.
    Number(NumberPlan),
    /// By a column of the table.
    Column(NumberPlan),
    /// By a graph: the columns on its axes, and the tasks whose answers are levels in it.
    Graph(GraphPlan),
    /// In words.
    Text,
}

/// What a computed answer needs.
pub struct NumberPlan {
    /// Symbol of the answer.
    pub symbol: Symbol,
    /// The formula.
    pub formula: Node,
    /// Unit of the answer.
    pub unit: Unit,
    /// How it is rounded.
    pub form: Form,
    /// What likely slips compute, in the file's order.
    pub slips: Vec<Node>,
}

/// How an answer is rounded.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Form {
    /// To significant figures.
    Figures(usize),
    /// To decimal places.
    Places(usize),
}

/// The digits that are sure in what is worked out in SI: a difference of some kelvins has lost three of its fifteen.
const SURE_FIGURES: usize = 12;

impl Form {
    /// A value as it is printed. Digits that are not sure are left out, else 1.1 K over 4 min would miss its tie.
    pub fn round(self, value: f64) -> Rounded {
        let value = rounding::to_figures(value, SURE_FIGURES).value;
        match self {
            Self::Figures(figures) => rounding::to_figures(value, figures),
            Self::Places(places) => rounding::to_places(value, places),
        }
    }

    /// The unit in the last printed place of a value.
    pub fn last_place(self, value: f64) -> f64 {
        match self {
            Self::Figures(figures) => rounding::last_figure(value, figures),
            Self::Places(places) => libm::pow(10.0, -(places as f64)),
        }
    }
}

/// A graph.
pub struct GraphPlan {
    /// Column on the horizontal axis.
    pub x: String,
    /// Column on the vertical axis.
    pub y: String,
    /// Further columns on it.
    pub also: Vec<String>,
    /// Whether the horizontal axis holds zero.
    pub from_zero: bool,
    /// Tasks whose answers are horizontal levels in the key's graph.
    pub levels: Vec<String>,
}

impl GraphPlan {
    /// All columns on the vertical axis.
    pub fn heights(&self) -> impl Iterator<Item = &str> {
        std::iter::once(&self.y).chain(&self.also).map(String::as_str)
    }
}

impl Experiment {
    /// The tasks of an edition, in order, with their place in the file.
    pub fn tasks_of(&self, edition: Edition) -> impl Iterator<Item = (usize, &TaskPlan)> {
        self.tasks.iter().enumerate().filter(move |(_, task)| task.editions.contains(&edition))
    }

    /// The number of a task on the sheets, from 1, where all editions that have it count alike.
    pub fn common_number(&self, index: usize) -> Option<usize> {
        let editions = self.tasks.get(index)?.editions.iter();
        let mut numbers = editions.filter_map(|&edition| self.tasks_of(edition).position(|(own, _)| own == index));
        let first = numbers.next()?;
        numbers.all(|number| number == first).then_some(first + 1)
    }

    /// All marks of an edition's sheet.
    pub fn marks_of(&self, edition: Edition) -> u32 {
        self.tasks_of(edition).map(|(index, _)| self.definition.tasks[index].marks.total()).sum()
    }

    /// What is read once and is an input of the bench at the same time, such as the temperature of the room.
    pub fn read_inputs(&self) -> impl Iterator<Item = (&ReadQuantity, &'static Input)> {
        let states = self.bench.states();
        self.once.iter().filter_map(move |once| {
            let input = self.bench.inputs().iter().find(|input| input.name == states[once.state].id)?;
            Some((once, input))
        })
    }

    /// The unit that a column of the table is printed in.
    pub fn column_unit(&self, id: &str) -> Option<&Unit> {
        if self.schedule.id == id {
            return Some(&self.schedule.unit);
        }
        self.columns.iter().find(|column| column.id == id).map(|column| &column.unit)
    }

    /// The unit of a column of the table, read or computed.
    pub fn axis_unit(&self, id: &str) -> Option<&Unit> {
        let computed = || match &self.tasks.iter().find(|task| task.id == id)?.body {
            TaskBody::Column(plan) => Some(&plan.unit),
            _ => None,
        };
        self.column_unit(id).or_else(computed)
    }

    /// The place of a task of this id.
    pub fn task_index(&self, id: &str) -> Option<usize> {
        self.tasks.iter().position(|task| task.id == id)
    }
}

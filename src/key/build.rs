//! The key of one student. In: an experiment and printed data. Out: an answer for every task, in the file's order.
//! It must not print anything for a reader.

use super::{
    Answer, Cell, Number,
    slack::{Allowance, propagate},
};
use crate::{
    experiment::{
        Experiment,
        definition::Answered,
        plan::{Form, NumberPlan, TaskBody},
    },
    formula::{self, EvaluationError, Value, Values},
    graph::{GraphPaper, Scale},
    quantity::rounding,
    variant::{Known, Variant},
};

/// The answers of one student.
#[derive(Debug, Clone)]
pub struct Key {
    /// An answer for each task of the experiment, whatever the student's edition.
    pub answers: Vec<Answer>,
    /// The values of all names, answers among them.
    pub known: Known,
}

/// Why a key could not be computed.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[error("task `{task}` has no answer for {student}: {why}")]
pub struct KeyError {
    /// The task.
    pub task: String,
    /// The student's id.
    pub student: String,
    /// What is missing in the readings.
    pub why: EvaluationError,
}

impl Key {
    /// Computes the key from the readings as printed.
    ///
    /// # Errors
    /// A [`KeyError`] for the first task that has no answer.
    pub fn build(experiment: &Experiment, variant: &Variant, student: &str) -> Result<Self, KeyError> {
        let mut builder = Builder { experiment, known: Known::of(experiment, variant), roundings: Vec::new() };
        let mut answers = Vec::with_capacity(experiment.tasks.len());
        for (index, task) in experiment.tasks.iter().enumerate() {
            let answer = match &task.body {
                TaskBody::Number(plan) => builder.number(index, &task.id, plan).map(Answer::Number),
                TaskBody::Column(plan) => builder.column(&task.id, plan).map(Answer::Column),
                TaskBody::Graph(_) | TaskBody::Text => Ok(Answer::Ticks),
            };
            answers.push(answer.map_err(|why| KeyError { task: task.id.clone(), student: student.to_owned(), why })?);
        }
        Ok(Self { answers, known: builder.known })
    }

    /// The number that answers a task.
    pub fn number(&self, task: usize) -> Option<&Number> {
        match self.answers.get(task) {
            Some(Answer::Number(number)) => Some(number),
            _ => None,
        }
    }
}

struct Builder<'a> {
    experiment: &'a Experiment,
    known: Known,
    /// What a student's own earlier answers may be off by.
    roundings: Vec<Allowance>,
}

impl Builder<'_> {
    fn number(&mut self, index: usize, id: &str, plan: &NumberPlan) -> Result<Number, EvaluationError> {
        let si = formula::evaluate(&plan.formula, &self.known)?.number();
        let value = plan.unit.from_si(si);
        if !value.is_finite() {
            return Err(EvaluationError { message: "the result is no number".to_owned() });
        }
        let printed = plan.form.round(value);
        let place = plan.form.last_place(value);
        let mut allowances = self.roundings.clone();
        let read_off = self.task_number(index).is_some_and(|number| number.how == Answered::ReadFromGraph);
        if read_off {
            allowances.extend(self.reading_allowances());
        }
        // Half a small square of the graph, where the answer is read off it: JCGM 100:2008, 4.3.7, as a half-width.
        let square = if read_off { self.half_square(plan) } else { 0.0 };
        let slack = propagate(&plan.formula, &self.known, &allowances)? + square;
        let half_width = (slack / plan.unit.scale() + place / 2.0).max(place);
        let accept = (self.edge(value - half_width, plan.form, value), self.edge(value + half_width, plan.form, value));
        self.known.add(id, Value::scalar(si));
        let carried = slack + plan.unit.scale() * place / 2.0;
        self.roundings.push(Allowance { name: id.to_owned(), half_width: carried, rows_apart: false });
        Ok(Number { value, unit: plan.unit.clone(), text: printed.text, accept, slack })
    }

    fn column(&mut self, id: &str, plan: &NumberPlan) -> Result<Vec<Cell>, EvaluationError> {
        let found = formula::evaluate(&plan.formula, &self.known)?;
        let cells = found.data().iter().map(|&si| {
            let value = plan.unit.from_si(si);
            Cell { value, text: plan.form.round(value).text }
        });
        let cells = cells.collect();
        self.known.add(id, found);
        Ok(cells)
    }

    /// The end of a range, printed with one figure more than the answer asks for.
    fn edge(&self, end: f64, form: Form, value: f64) -> rounding::Rounded {
        let place = form.last_place(value);
        let places = libm::ceil(1.0 - libm::log10(place)).max(0.0) as usize;
        rounding::to_places(end, places)
    }

    fn task_number(&self, index: usize) -> Option<&crate::experiment::definition::NumberTask> {
        self.experiment.definition.tasks[index].number.as_ref()
    }

    /// What readings may be off by, relative to each other: noise and resolution of their instrument.
    fn reading_allowances(&self) -> impl Iterator<Item = Allowance> {
        self.experiment.columns.iter().map(|column| Allowance {
            name: column.id.clone(),
            half_width: column.instrument.repeatability() * column.unit.scale(),
            rows_apart: true,
        })
    }

    /// Half a small square (0.5 mm) of the graph on the axis that has the answer's unit, in SI.
    fn half_square(&self, plan: &NumberPlan) -> f64 {
        let paper = GraphPaper::of(false);
        let graphs = self.experiment.tasks.iter().filter_map(|task| match &task.body {
            TaskBody::Graph(graph_plan) => Some(graph_plan),
            _ => None,
        });
        graphs
            .flat_map(|graph_plan| [(&graph_plan.x, paper.width_mm), (&graph_plan.y, paper.height_mm)])
            .filter_map(|(column, length)| {
                let unit = self.experiment.column_unit(column)?;
                (unit.dimension() == plan.unit.dimension()).then(|| {
                    let values = self.known.value_of(column).map(Value::data).unwrap_or_default();
                    let scale = Scale::of_data(values.iter().map(|&si| unit.from_si(si)), length);
                    0.5 * scale.per_mm() * unit.scale()
                })
            })
            .next()
            .unwrap_or(0.0)
    }
}

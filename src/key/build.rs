//! The key of one student. In: an experiment and printed data. Out: an answer for every task, in the file's order.
//! It must not print anything for a reader.

use serde::{Deserialize, Serialize};

use super::{
    Answer, Budget, Cause, Cell, Gap, Number, gap,
    ledger::Ledger,
    model::{Model, inputs_of},
    paper::Paper,
    range::Range,
    slip::{Slip, slips},
};
use crate::{
    class::Edition,
    experiment::{
        Experiment,
        definition::Answered,
        plan::{NumberPlan, TaskBody},
    },
    formula::{self, EvaluationError, Value, Values},
    graph::GraphPaper,
    uncertainty::{Distribution, Method, first_order_rows},
    variant::{Known, Variant},
};

/// The answers of one student.
#[derive(Debug, Clone, Serialize, Deserialize)]
pub struct Key {
    /// An answer for each task of the experiment, whatever the student's edition.
    pub answers: Vec<Answer>,
    /// The values of all names, answers among them.
    pub known: Known,
}

/// How it is decided which method passes on what an answer may be off by.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Rule {
    /// As [`Method::of`] says, task by task.
    Chosen,
    /// The same for the tasks of an edition; first order for the others, whose ranges nobody sees.
    ChosenFor(Edition),
    /// The same for all tasks.
    Always(Method),
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
    /// Computes the key from the readings as printed, for a sheet in normal print.
    ///
    /// # Errors
    /// A [`KeyError`] for the first task that has no answer.
    pub fn build(experiment: &Experiment, variant: &Variant, student: &str) -> Result<Self, KeyError> {
        Self::build_by(Rule::Chosen, experiment, variant, student)
    }

    /// Computes the key of a student's own sheet: its edition, and its graph paper, whose wide squares in large print are
    /// read less closely.
    ///
    /// # Errors
    /// A [`KeyError`] for the first task that has no answer.
    pub fn build_for(
        edition: Edition,
        sheet: GraphPaper,
        experiment: &Experiment,
        variant: &Variant,
        student: &str,
    ) -> Result<Self, KeyError> {
        Self::build_with(Rule::ChosenFor(edition), sheet, experiment, variant, student)
    }

    /// Computes the key with a rule of its own between first order and Monte Carlo, so that one can be held against the
    /// other.
    ///
    /// # Errors
    /// A [`KeyError`] for the first task that has no answer.
    pub fn build_by(rule: Rule, experiment: &Experiment, variant: &Variant, student: &str) -> Result<Self, KeyError> {
        Self::build_with(rule, GraphPaper::of(false), experiment, variant, student)
    }

    fn build_with(
        rule: Rule,
        sheet: GraphPaper,
        experiment: &Experiment,
        variant: &Variant,
        student: &str,
    ) -> Result<Self, KeyError> {
        if variant.measured {
            return Ok(Self::of_measured(rule, sheet, experiment, variant));
        }
        let known = answered(experiment, variant, student)?;
        let mut builder = Builder { rule, sheet, experiment, known: &known, ledger: Ledger::default() };
        builder.enter_readings(variant);
        let mut answers = Vec::with_capacity(experiment.tasks.len());
        for (index, task) in experiment.tasks.iter().enumerate() {
            let answer = match &task.body {
                TaskBody::Number(plan) => {
                    builder.number(index, &task.id, plan).map(|number| Answer::Number(Box::new(number)))
                }
                TaskBody::Column(plan) => builder.column(index, &task.id, plan).map(Answer::Column),
                TaskBody::Graph(_) | TaskBody::Text => Ok(Answer::Ticks),
            };
            answers.push(answer.map_err(|why| KeyError { task: task.id.clone(), student: student.to_owned(), why })?);
        }
        Ok(Self { answers, known })
    }

    /// The key to a run that was really read: what it can't answer stays open, with the reason.
    fn of_measured(rule: Rule, sheet: GraphPaper, experiment: &Experiment, variant: &Variant) -> Self {
        let mut known = Known::of(experiment, variant);
        let mut gaps = Vec::with_capacity(experiment.tasks.len());
        for task in &experiment.tasks {
            let gap = match &task.body {
                _ if variant.table.rows() == 0 => Some(Gap::Blank),
                TaskBody::Number(plan) | TaskBody::Column(plan) => gap::gap(experiment, &plan.formula, &known),
                TaskBody::Graph(_) => gap::gap_of_graph(experiment, &task.body, &known),
                TaskBody::Text => None,
            };
            if let (None, TaskBody::Number(plan) | TaskBody::Column(plan)) = (&gap, &task.body)
                && let Ok(found) = formula::evaluate(&plan.formula, &known)
            {
                known.add(&task.id, found);
            }
            gaps.push(gap);
        }
        let mut builder = Builder { rule, sheet, experiment, known: &known, ledger: Ledger::default() };
        builder.enter_readings(variant);
        let mut answers = Vec::with_capacity(experiment.tasks.len());
        for (index, (task, gap)) in experiment.tasks.iter().zip(gaps).enumerate() {
            let answer = match (gap, &task.body) {
                (Some(gap), _) => Answer::Open(gap),
                (None, TaskBody::Number(plan)) => match builder.number(index, &task.id, plan) {
                    Ok(number) if gap::is_sure(experiment, variant, &number) => Answer::Number(Box::new(number)),
                    Ok(_) => Answer::Open(Gap::Uncertain),
                    Err(_) => Answer::Open(Gap::NoValue),
                },
                (None, TaskBody::Column(plan)) => {
                    builder.column(index, &task.id, plan).map_or(Answer::Open(Gap::NoValue), Answer::Column)
                }
                (None, TaskBody::Graph(_) | TaskBody::Text) => Answer::Ticks,
            };
            answers.push(answer);
        }
        Self { answers, known }
    }

    /// Whether the readings answer a task.
    pub fn answers(&self, task: usize) -> bool {
        !matches!(self.answers.get(task), None | Some(Answer::Open(_)))
    }

    /// Why they do not.
    pub fn gap(&self, task: usize) -> Option<&Gap> {
        match self.answers.get(task) {
            Some(Answer::Open(gap)) => Some(gap),
            _ => None,
        }
    }

    /// All marks of an edition's sheet that these readings can earn.
    pub fn marks_of(&self, experiment: &Experiment, edition: Edition) -> u32 {
        let tasks = experiment.tasks_of(edition).filter(|(index, _)| self.answers(*index));
        tasks.map(|(index, _)| experiment.definition.tasks[index].marks.total()).sum()
    }

    /// The number that answers a task.
    pub fn number(&self, task: usize) -> Option<&Number> {
        match self.answers.get(task) {
            Some(Answer::Number(number)) => Some(number),
            _ => None,
        }
    }

    /// Slips that uncertainty alone would accept, with their task: the range was cut for them, or can't be told from them.
    pub fn overlaps(&self) -> impl Iterator<Item = (usize, &Slip)> {
        let numbers = (0..self.answers.len()).filter_map(|task| Some((task, self.number(task)?)));
        numbers.flat_map(|(task, number)| number.slips.iter().filter(|slip| slip.inside).map(move |slip| (task, slip)))
    }
}

/// The values of all names, answers among them, at full precision.
///
/// # Errors
/// A [`KeyError`] for the first task that has no answer.
pub fn answered(experiment: &Experiment, variant: &Variant, student: &str) -> Result<Known, KeyError> {
    let mut known = Known::of(experiment, variant);
    for task in &experiment.tasks {
        let (TaskBody::Number(plan) | TaskBody::Column(plan)) = &task.body else { continue };
        let fail = |why| KeyError { task: task.id.clone(), student: student.to_owned(), why };
        let found = formula::evaluate(&plan.formula, &known).map_err(fail)?;
        if matches!(task.body, TaskBody::Number(_)) && !found.number().is_finite() {
            return Err(fail(EvaluationError { message: "the result is no number".to_owned() }));
        }
        known.add(&task.id, found);
    }
    Ok(known)
}

struct Builder<'a> {
    sheet: GraphPaper,
    rule: Rule,
    experiment: &'a Experiment,
    /// All names, answers among them.
    known: &'a Known,
    ledger: Ledger,
}

impl Builder<'_> {
    /// What readings may be off by, relative to each other: noise and resolution of their instrument.
    fn enter_readings(&mut self, variant: &Variant) {
        for column in &self.experiment.columns {
            let rows = variant.table.column(&column.id).map_or(0, |column| column.values.len());
            let standard = column.instrument.repeatability() * column.unit.scale();
            for row in 0..rows {
                self.ledger.add_reading(&column.id, row, standard);
            }
        }
    }

    fn number(&mut self, index: usize, id: &str, plan: &NumberPlan) -> Result<Number, EvaluationError> {
        let si = self.known.value_of(id).map_or(f64::NAN, Value::number);
        let value = plan.unit.from_si(si);
        let (place, scale) = (plan.form.last_place(value), plan.unit.scale());
        let how = self.experiment.definition.tasks[index].number.as_ref().map_or(Answered::default(), |task| task.how);
        let paper = Paper::new(self.experiment, self.known, self.sheet);
        let model =
            Model::build(&plan.formula, (index, how), (si, place * scale), self.known, &paper, &mut self.ledger)?;
        let errors = &self.ledger.errors;
        let deviation = model.deviation(errors)?;
        let asked = |edition: &Edition| self.experiment.tasks[index].editions.contains(edition);
        let method = match &self.rule {
            Rule::ChosenFor(edition) if !asked(edition) => Method::FirstOrder,
            Rule::Chosen | Rule::ChosenFor(_) => model.method(si, &deviation, errors),
            Rule::Always(method) => *method,
        };
        let (low, high) = model.coverage(method, si, &deviation, errors)?;
        let coverage = (plan.unit.from_si(low), plan.unit.from_si(high));
        let rounding = self.ledger.rounding(&deviation) / scale;
        let mut range = Range::new(value, place, coverage, rounding);
        let mut slips = slips(plan, self.known, &range);
        range.cut(&slips);
        let accept = range.printed(plan.form);
        // Whoever marks compares with the ends as they are printed.
        let printed = accept.0.value..=accept.1.value;
        slips.iter_mut().for_each(|slip| slip.accepted = printed.contains(&slip.value));
        let budget = Budget {
            how,
            method,
            standard: deviation.standard(errors) / scale,
            coverage,
            rounding,
            bounds: range.bounds(),
            contributions: self.ledger.contributions(&deviation, scale),
        };
        self.ledger.add_answer(id, None, deviation);
        let text = plan.form.round(value).text;
        Ok(Number { value, unit: plan.unit.clone(), text, accept, budget, slips })
    }

    fn column(&mut self, index: usize, id: &str, plan: &NumberPlan) -> Result<Vec<Cell>, EvaluationError> {
        let found = self.known.value_of(id).cloned().unwrap_or(Value::column(Vec::new()));
        let inputs = inputs_of(&plan.formula, &self.ledger, false);
        let mut deviations = first_order_rows(&plan.formula, self.known, &inputs, &self.ledger.errors)?;
        deviations.resize_with(found.data().len(), Default::default);
        let mut cells = Vec::with_capacity(found.data().len());
        for (row, (&si, mut deviation)) in found.data().iter().zip(deviations).enumerate() {
            let value = plan.unit.from_si(si);
            let half = plan.form.last_place(value) / 2.0 * plan.unit.scale();
            deviation.add(&self.ledger.error(Cause::Rounding(index), Distribution::Rectangular(half)), 1.0);
            self.ledger.add_answer(id, Some(row), deviation);
            cells.push(Cell { value, text: plan.form.round(value).text });
        }
        Ok(cells)
    }
}

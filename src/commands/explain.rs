//! Where accepted ranges come from, for `show`. In: an experiment, a language. Out: JSON for each task with a number,
//! and lines of text. It must show what the key did, not a second account of it.

use serde_json::{Value, json};

use crate::{
    compose::{Facts, accepted},
    experiment::Experiment,
    key::{Bound, Budget, Cause, Key, Number, SlipKind},
    language::Language,
    quantity::rounding,
    uncertainty::Method,
    variant,
};

/// The name of the sample that is shown.
const SAMPLE: &str = "sample";

/// One sample of readings with its key.
pub(super) struct Sample<'a> {
    experiment: &'a Experiment,
    language: &'a Language,
    variant: variant::Variant,
    key: Key,
}

impl<'a> Sample<'a> {
    /// The sample of an experiment; nothing where no readings meet its conditions.
    pub(super) fn draw(experiment: &'a Experiment, language: &'a Language) -> Option<Self> {
        let variant = variant::draw(experiment, &experiment.definition.id, SAMPLE).ok()?;
        let key = Key::build(experiment, &variant, SAMPLE).ok()?;
        Some(Self { experiment, language, variant, key })
    }

    /// The range of a task and where it comes from; null for a task without a number.
    pub(super) fn json(&self, task: usize) -> Value {
        let Some(number) = self.key.number(task) else { return Value::Null };
        let Budget { how, method, standard, coverage, rounding, bounds, contributions } = &number.budget;
        let contributions: Vec<Value> = contributions
            .iter()
            .map(|part| json!({ "cause": self.cause(&part.cause), "standard": part.standard, "share": part.share }))
            .collect();
        let slips: Vec<Value> = number
            .slips
            .iter()
            .map(|slip| json!({ "value": slip.value, "says": self.says(task, slip.kind), "inside": slip.inside }))
            .collect();
        json!({
            "sample": number.value, "unit": number.unit.print(),
            "accept": [number.accept.0.value, number.accept.1.value],
            "how": how.word(), "method": method_key(*method), "standard_uncertainty": standard,
            "coverage_95": [coverage.0, coverage.1], "rounding_at_worst": rounding,
            "decided_by": [bound_key(bounds.0), bound_key(bounds.1)],
            "contributions": contributions, "slips": slips,
        })
    }

    /// The same as lines.
    pub(super) fn lines(&self) -> Vec<String> {
        let numbers = self.experiment.tasks.iter().enumerate().filter_map(|(index, _)| {
            let number = self.key.number(index)?;
            Some(self.task_lines(index, number))
        });
        numbers.flatten().collect()
    }

    fn task_lines(&self, task: usize, number: &Number) -> Vec<String> {
        let word = |key: String| self.language.words().get(&key).cloned().unwrap_or(key);
        let budget = &number.budget;
        let bounds = match budget.bounds {
            (low, high) if low == high => word(format!("bound-{}", bound_key(low))),
            (low, high) => {
                format!("{}, {}", word(format!("bound-{}", bound_key(low))), word(format!("bound-{}", bound_key(high))))
            }
        };
        let value = self.language.notation.quantity(&number.text, &number.unit);
        let mut lines = vec![
            format!("{}: {value} ({})", self.experiment.tasks[task].id, accepted(number, self.language)),
            format!(
                "  {}; {}; {} {bounds}",
                word(format!("how-{}", budget.how.word())),
                word(format!("method-{}", method_key(budget.method))),
                self.language.word("decided-by"),
            ),
        ];
        lines.extend(budget.contributions.iter().map(|part| {
            let share = rounding::to_places(part.share * 100.0, 0).text;
            format!("    {share} %  {}", self.cause(&part.cause))
        }));
        lines.extend(number.slips.iter().map(|slip| {
            let value = self.language.notation.quantity(&slip.text, &number.unit);
            format!("  {} {value}: {}", self.language.word("likely-slip"), self.says(task, slip.kind))
        }));
        lines
    }

    fn cause(&self, cause: &Cause) -> String {
        let id = |task: &usize| self.experiment.tasks[*task].id.as_str();
        let (key, name) = match cause {
            Cause::Rounding(task) => ("cause-rounding", id(task)),
            Cause::Readings(column) => ("cause-readings", column.as_str()),
            Cause::Square(task) => ("cause-square", id(task)),
            Cause::Lines(task) => ("cause-lines", id(task)),
            Cause::Ends(task) => ("cause-ends", id(task)),
        };
        let facts =
            Facts { experiment: self.experiment, variant: &self.variant, key: &self.key, language: self.language };
        let symbol = facts.symbol_of(name).map_or_else(|| name.to_owned(), crate::formula::Symbol::plain);
        format!("{} {symbol}", self.language.word(key))
    }

    fn says(&self, task: usize, kind: SlipKind) -> String {
        match kind {
            SlipKind::Power(power) => format!("·10^{power}"),
            SlipKind::Listed(index) => {
                let number = self.experiment.definition.tasks[task].number.as_ref();
                let slip = number.and_then(|number| number.slips.get(index));
                slip.map_or_else(String::new, |slip| slip.says.in_language(&self.language.code).to_owned())
            }
        }
    }
}

fn method_key(method: Method) -> &'static str {
    match method {
        Method::FirstOrder => "first-order",
        Method::MonteCarlo => "monte-carlo",
    }
}

fn bound_key(bound: Bound) -> &'static str {
    match bound {
        Bound::Rounding => "rounding",
        Bound::Coverage => "coverage",
        Bound::LastFigure => "last-figure",
        Bound::Slip => "slip",
    }
}

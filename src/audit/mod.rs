//! How different, how fair, how copy-safe a set's sheets are. In: a plan and its draft. Out: counts and measures as data.
//! It must word nothing, and suspect nobody: it looks at sheets before anybody has written on them.

mod capacity;
mod measure;
mod pairs;
mod rejected;
mod rows;

pub use capacity::Capacity;
pub use measure::{Aspect, Measure, Measured, measures};
pub use pairs::{Pairs, Worst};
pub use rejected::Rejected;

use serde::Serialize;

use crate::{
    class::Edition,
    copying::Expected,
    graph::GraphPaper,
    set::{Draft, Member, Own, SetPlan},
};

/// What is found out about a set.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Audit {
    /// Id of the experiment.
    pub experiment: String,
    /// The class.
    pub class: String,
    /// The seed.
    pub seed: String,
    /// How many versions are shared; nothing where every student has readings of their own.
    pub versions: Option<usize>,
    /// The share of numeric marks that copied answers may earn.
    pub limit: f64,
    /// By edition in use.
    pub editions: Vec<EditionAudit>,
    /// Draws that were turned down.
    pub rejected: Rejected,
}

/// What is found out about the sheets of an edition.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct EditionAudit {
    /// The edition.
    pub edition: Edition,
    /// The different sheets, by the student's id, or by the version's number where versions are shared.
    pub sheets: Vec<String>,
    /// Marks of the numeric tasks.
    pub marks: u32,
    /// What copying earns.
    pub pairs: Pairs,
    /// The numeric tasks.
    pub tasks: Vec<TaskAudit>,
    /// How many sheets the experiment could keep apart.
    pub capacity: Capacity,
}

/// What is found out about a numeric task of an edition.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct TaskAudit {
    /// Its id.
    pub id: String,
    /// Its symbol as plain text.
    pub symbol: String,
    /// Unit of its answer.
    pub unit: String,
    /// What it is worth.
    pub marks: u32,
    /// The answers as printed, in the order of the sheets.
    pub answers: Vec<String>,
    /// The accepted ranges, in the same order.
    pub accept: Vec<(f64, f64)>,
    /// The share of ordered pairs in which one's answer is accepted on the other's sheet.
    pub shared: f64,
    /// What makes it harder or easier.
    pub measures: Vec<Measure>,
}

impl Audit {
    /// Looks through a whole set.
    pub fn of(plan: &SetPlan<'_>, draft: &Draft<'_>) -> Self {
        let editions = Edition::ALL.into_iter().filter_map(|edition| {
            let members = different(plan, edition, &draft.members);
            (!members.is_empty()).then(|| EditionAudit::of(plan, edition, &members))
        });
        Self {
            experiment: plan.experiment.definition.id.clone(),
            class: plan.roster.name.clone(),
            seed: plan.seed.to_owned(),
            versions: plan.versions,
            limit: plan.limit.share(),
            editions: editions.collect(),
            rejected: Rejected::of(plan, &draft.members),
        }
    }

    /// Whether copying pays little everywhere.
    pub fn apart(&self) -> bool {
        self.editions.iter().all(|edition| edition.pairs.above == 0)
    }

    /// Whether every measure is within its bound.
    pub fn fair(&self) -> bool {
        let tasks = self.editions.iter().flat_map(|edition| &edition.tasks);
        tasks.flat_map(|task| &task.measures).all(|measure| measure.holds)
    }
}

/// A member for each different sheet of an edition.
fn different<'a, 'm>(plan: &SetPlan<'_>, edition: Edition, members: &'m [Member<'a>]) -> Vec<&'m Member<'a>> {
    let mut kept: Vec<&Member<'a>> = Vec::new();
    for member in members.iter().filter(|member| member.edition == edition) {
        let seen = |own: &&Member<'_>| plan.versions.is_some() && own.version == member.version;
        if !kept.iter().any(seen) {
            kept.push(member);
        }
    }
    kept
}

impl EditionAudit {
    fn of(plan: &SetPlan<'_>, edition: Edition, members: &[&Member<'_>]) -> Self {
        let experiment = plan.experiment;
        let owns: Vec<Own> = members.iter().map(|member| member.own()).collect();
        let expected: Vec<Expected> = owns.iter().map(|own| Expected::of(experiment, edition, &own.key)).collect();
        let name = |member: &&Member<'_>| {
            plan.versions.map_or_else(|| member.student.id.clone(), |_| member.version.to_string())
        };
        let pairs = Pairs::of(&expected, plan.limit, experiment);
        let looked: Vec<Measured<'_>> = members
            .iter()
            .zip(&owns)
            .map(|(member, own)| Measured {
                variant: &own.variant,
                key: &own.key,
                paper: GraphPaper::of(member.student.large),
            })
            .collect();
        let measures = measure::measures(experiment, Some(edition), &looked).into_iter().map(|(_, measures)| measures);
        let numeric: Vec<usize> =
            expected.first().map(|first| first.numbers.iter().map(|number| number.task).collect()).unwrap_or_default();
        let tasks = numeric.iter().zip(&pairs.shared_by_task).zip(measures).map(|((&index, &shared), measures)| {
            let task = &experiment.definition.tasks[index];
            let numbers: Vec<_> = owns.iter().filter_map(|own| own.key.number(index)).collect();
            TaskAudit {
                id: task.id.clone(),
                symbol: measure::plan_of(experiment, index).map(|plan| plan.symbol.plain()).unwrap_or_default(),
                unit: measure::plan_of(experiment, index).map(|plan| plan.unit.print()).unwrap_or_default(),
                marks: task.marks.total(),
                answers: numbers.iter().map(|number| number.text.clone()).collect(),
                accept: numbers.iter().map(|number| (number.accept.0.value, number.accept.1.value)).collect(),
                shared,
                measures,
            }
        });
        Self {
            edition,
            sheets: members.iter().map(name).collect(),
            marks: expected.first().map_or(0, Expected::marks),
            tasks: tasks.collect(),
            pairs,
            capacity: Capacity::of(experiment, edition, plan.limit),
        }
    }
}

//! Tasks and conditions: formulas proved, answers rounded as asked. In: the definition and the known names.
//! Out: checked tasks. Nothing is computed here.

use super::{Checker, Definition, Names, names::mended};
use crate::{
    class::Edition,
    experiment::{
        definition::{Answered, NumberTask, Task},
        plan::{Form, NumberPlan, TaskBody, TaskPlan},
    },
    formula::{self, FormulaError, Node, Shape, Type, is_name},
    quantity::Unit,
    report::Problem,
};

impl Checker<'_> {
    pub(super) fn tasks(&mut self, definition: &Definition, names: &mut Names) -> Vec<TaskPlan> {
        let mut plans = Vec::new();
        for (index, task) in definition.tasks.iter().enumerate() {
            let pointer = format!("/tasks/{index}");
            names.begin(&task.id);
            self.task_id(&format!("{pointer}/id"), index, definition, names);
            let editions = if task.editions.is_empty() { Edition::ALL.to_vec() } else { task.editions.clone() };
            self.marks(&pointer, task);
            let body = self.body(&pointer, task, definition, names);
            plans.extend(body.map(|body| TaskPlan { id: task.id.clone(), editions, body }));
        }
        for (index, task) in definition.tasks.iter().enumerate() {
            if let Some(graph) = &task.graph {
                self.levels(&format!("/tasks/{index}/graph/levels"), graph, definition, names);
            }
        }
        plans
    }

    pub(super) fn conditions(&mut self, definition: &Definition, names: &mut Names) -> Vec<Node> {
        names.begin("");
        let conditions = definition.conditions.iter().enumerate();
        conditions
            .filter_map(|(index, condition)| {
                self.comparison(&format!("/conditions/{index}/holds"), &condition.holds, names)
            })
            .collect()
    }

    /// A formula that compares two sides.
    pub(super) fn comparison(&mut self, pointer: &str, text: &str, names: &Names) -> Option<Node> {
        let (node, _) = self.formula(pointer, text, names, true)?;
        if matches!(node.kind, formula::NodeKind::Compare(..)) {
            return Some(node);
        }
        let hint = Some("compare two sides, such as `last(T) - first(T) > 20 K`".to_owned());
        self.error(pointer, "the condition compares nothing", "expected a comparison", hint);
        None
    }

    fn body(&mut self, pointer: &str, task: &Task, definition: &Definition, names: &mut Names) -> Option<TaskBody> {
        let kinds = [
            ("number", task.number.is_some()),
            ("column", task.column.is_some()),
            ("graph", task.graph.is_some()),
            ("text", task.text.is_some()),
        ];
        let given: Vec<&str> = kinds.iter().filter(|(_, given)| *given).map(|(kind, _)| *kind).collect();
        if given.len() != 1 {
            self.kind(pointer, task, &given);
            names.spoil(&task.id);
            return None;
        }
        if let Some(number) = &task.number {
            let plan = self.number(&format!("{pointer}/number"), number, names);
            self.answer_name(pointer, &task.id, &number.unit, Shape::Scalar, names);
            // A slip may start from the right answer, so its own name is known by now.
            let slips = self.slips(&format!("{pointer}/number/slips"), number, names);
            return plan.map(|plan| TaskBody::Number(NumberPlan { slips, ..plan }));
        }
        if let Some(column) = &task.column {
            let symbol = self.symbol(&format!("{pointer}/column/symbol"), &column.symbol);
            let place = format!("{pointer}/column");
            let answer = self.answer(&place, &column.formula, &column.unit, Shape::Column, names);
            self.answer_name(pointer, &task.id, &column.unit, Shape::Column, names);
            let (formula, unit) = answer?;
            let form = Form::Places(column.places as usize);
            return Some(TaskBody::Column(NumberPlan { symbol: symbol?, formula, unit, form, slips: Vec::new() }));
        }
        match &task.graph {
            Some(graph) => self.graph(&format!("{pointer}/graph"), graph, definition, names),
            None => Some(TaskBody::Text),
        }
    }

    fn answer_name(&mut self, pointer: &str, id: &str, unit: &str, shape: Shape, names: &mut Names) {
        // An answer of another kind than its unit: either may be meant.
        let found = Unit::parse(unit).ok().filter(|_| !self.faulty.contains(id));
        let found = found.map(|unit| Type { dimension: unit.dimension(), kind: unit.kind(), shape });
        self.name(&format!("{pointer}/id"), id, found, names);
    }

    /// What is wrong with an id apart from what is said of it as the name of an answer.
    fn task_id(&mut self, pointer: &str, index: usize, definition: &Definition, names: &Names) {
        let task = &definition.tasks[index];
        let id = &task.id;
        let answer = task.number.is_some() || task.column.is_some();
        let repeated = definition.tasks[..index].iter().any(|earlier| earlier.id == *id);
        if is_name(id) && id.chars().any(char::is_uppercase) {
            let hint = format!("write `{}`: capitals are for quantities", id.to_lowercase());
            self.error(pointer, format!("`{id}` is no id of a task"), "has capitals", Some(hint));
        } else if !answer && !is_name(id) {
            let hint = format!("use letters, digits and underscores, such as `{}`", mended(id));
            self.error(pointer, format!("`{id}` is no id of a task"), "not a name", Some(hint));
        } else if (!answer && names.knows(id)) || (repeated && !names.knows(id)) {
            self.used_twice(pointer, id);
        }
    }

    fn kind(&mut self, pointer: &str, task: &Task, given: &[&str]) {
        let message = format!("it is not clear how the task `{}` is answered", task.id);
        let Some((first, others)) = given.split_first() else {
            let hint = "add exactly one of `number`, `column`, `graph` and `text`";
            let place = self.places.value(format!("{pointer}/id"));
            self.problems.push(Problem::error(message).at(place).label("in this task").hint(hint));
            return;
        };
        let mut problem = Problem::error(message).label("and a second way").hint("keep one and delete the others");
        problem = problem.also(self.places.key(format!("{pointer}/{first}")), "one way");
        for other in others {
            problem = match problem.place {
                None => problem.at(self.places.key(format!("{pointer}/{other}"))),
                Some(_) => problem.also(self.places.key(format!("{pointer}/{other}")), "another"),
            };
        }
        self.problems.push(problem);
    }

    fn number(&mut self, pointer: &str, number: &NumberTask, names: &Names) -> Option<NumberPlan> {
        let symbol = self.symbol(&format!("{pointer}/symbol"), &number.symbol);
        let form = match (number.figures, number.places) {
            (Some(figures), None) => Some(Form::Figures(figures as usize)),
            (None, Some(places)) => Some(Form::Places(places as usize)),
            (Some(_), Some(_)) => {
                let problem = Problem::error("the answer is rounded in two ways")
                    .at(self.places.key(format!("{pointer}/places")))
                    .label("and to decimal places")
                    .also(self.places.key(format!("{pointer}/figures")), "to significant figures")
                    .hint("keep `figures` or `places`");
                self.problems.push(problem);
                None
            }
            (None, None) => {
                let problem = Problem::error("it is not said how the answer is rounded")
                    .at(self.places.key(pointer))
                    .label("expected `figures` or `places`")
                    .hint("add `figures: 3` for significant figures, or `places: 1` for decimal places");
                self.problems.push(problem);
                None
            }
        };
        let (formula, unit) = self.answer(pointer, &number.formula, &number.unit, Shape::Scalar, names)?;
        self.how(pointer, number.how, &formula);
        Some(NumberPlan { symbol: symbol?, formula, unit, form: form?, slips: Vec::new() })
    }

    /// A line or fit must be in the formula of an answer that is found by one.
    fn how(&mut self, pointer: &str, how: Answered, formula: &Node) {
        let (wanted, hint): (&[&str], _) = match how {
            Answered::Calculate | Answered::ReadFromGraph => return,
            Answered::FromDrawnLine => (&["slope", "intercept"], "use `slope` or `intercept` in the formula"),
            Answered::FromFit => (
                &["slope", "intercept", "slope_u", "intercept_u", "limit", "time_constant"],
                "use `slope`, `intercept`, `limit` or `time_constant` in the formula",
            ),
        };
        if !formula.calls(&|function| wanted.contains(&function.name)) {
            let message = format!("the answer is found `{}`, but its formula fits nothing", how.word());
            let label = format!("expected {}", wanted.join(", "));
            self.error(&format!("{pointer}/how"), message, &label, Some(format!("{hint}, or change `how`")));
        }
    }

    fn slips(&mut self, pointer: &str, number: &NumberTask, names: &Names) -> Vec<Node> {
        let Ok(unit) = Unit::parse(&number.unit) else { return Vec::new() };
        let wanted = Type { dimension: unit.dimension(), kind: unit.kind(), shape: Shape::Scalar };
        let mut slips = Vec::with_capacity(number.slips.len());
        for (index, slip) in number.slips.iter().enumerate() {
            let place = format!("{pointer}/{index}/formula");
            let Some((node, found)) = self.formula(&place, &slip.formula, names, false) else { continue };
            match formula::expect(&node, found, wanted, "the answer", names) {
                Ok(()) => slips.push(node),
                Err(fault) => self.formula_fault(&place, fault),
            }
        }
        slips
    }

    /// A formula and its unit, if they are of one kind.
    fn answer(&mut self, pointer: &str, text: &str, unit: &str, shape: Shape, names: &Names) -> Option<(Node, Unit)> {
        let unit = self.unit(&format!("{pointer}/unit"), unit);
        let place = format!("{pointer}/formula");
        let (node, found) = self.formula(&place, text, names, false)?;
        let unit = unit?;
        let wanted = Type { dimension: unit.dimension(), kind: unit.kind(), shape };
        if let Err(fault) = formula::expect(&node, found, wanted, "the answer", names) {
            self.formula_fault(&place, fault);
            self.faulty.insert(names.own().to_owned());
            return None;
        }
        Some((node, unit))
    }

    fn formula(&mut self, pointer: &str, text: &str, names: &Names, hidden: bool) -> Option<(Node, Type)> {
        let node = formula::parse(text).map_err(|fault| self.formula_fault(pointer, fault)).ok()?;
        let mut secrets = Vec::new();
        if !hidden {
            node.names(&mut |name, span| {
                if names.is_hidden(name) {
                    secrets.push((name.to_owned(), span.clone()));
                }
            });
            if matches!(node.kind, formula::NodeKind::Compare(..)) {
                let fault = FormulaError::new(node.span.clone(), "the formula is a comparison", "expected a value")
                    .hint("write what the answer is calculated from; comparisons belong to `conditions`");
                self.formula_fault(pointer, fault);
                return None;
            }
        }
        for (name, span) in secrets {
            let problem = Problem::error(format!("`{name}` is not told to the student"))
                .at(self.places.inside(pointer, &span))
                .label("not on the sheet")
                .hint(names.untold(&name));
            self.problems.push(problem);
        }
        match formula::check(&node, names) {
            Ok(found) => Some((node, found)),
            Err(faults) => {
                for fault in faults {
                    self.formula_fault(pointer, fault);
                }
                None
            }
        }
    }
}

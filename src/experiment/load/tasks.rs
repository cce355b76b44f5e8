//! Tasks and conditions: formulas proved, answers rounded as asked. In: the definition and the known names.
//! Out: checked tasks. Nothing is computed here.

use super::{Checker, Definition, Names};
use crate::{
    class::Edition,
    experiment::{
        Text,
        definition::{Answered, GraphTask, NumberTask, Task},
        plan::{Form, GraphPlan, NumberPlan, TaskBody, TaskPlan},
        prose::{self, Piece},
    },
    formula::{self, FormulaError, Node, Scope, Shape, Type},
    report::Problem,
};

impl Checker<'_> {
    pub(super) fn tasks(&mut self, definition: &Definition, names: &mut Names) -> Vec<TaskPlan> {
        let mut plans = Vec::new();
        for (index, task) in definition.tasks.iter().enumerate() {
            let pointer = format!("/tasks/{index}");
            let editions = if task.editions.is_empty() { Edition::ALL.to_vec() } else { task.editions.clone() };
            self.marks(&pointer, task);
            let body = self.body(&pointer, task, definition, names);
            plans.extend(body.map(|body| TaskPlan { id: task.id.clone(), editions, body }));
        }
        // Texts may speak of any answer, also of one that is asked for later.
        for (index, task) in definition.tasks.iter().enumerate() {
            self.prose(&format!("/tasks/{index}/ask"), &task.ask, names);
            if let Some(help) = &task.help {
                self.prose(&format!("/tasks/{index}/help"), help, names);
            }
        }
        plans
    }

    pub(super) fn conditions(&mut self, definition: &Definition, names: &Names) -> Vec<Node> {
        let mut found = Vec::new();
        for (index, condition) in definition.conditions.iter().enumerate() {
            let pointer = format!("/conditions/{index}/holds");
            let Some((node, _)) = self.formula(&pointer, &condition.holds, names, true) else { continue };
            if matches!(node.kind, formula::NodeKind::Compare(..)) {
                found.push(node);
            } else {
                let hint = Some("compare two sides, such as `last(T) - first(T) > 20 K`".to_owned());
                self.error(&pointer, "the condition compares nothing", "expected a comparison", hint);
            }
        }
        found
    }

    /// Quantities in a text must be on the sheet.
    fn prose(&mut self, pointer: &str, text: &Text, names: &Names) {
        for (code, words) in text.entries() {
            let place = format!("{pointer}/{code}");
            let pieces = match prose::split(words) {
                Ok(pieces) => pieces,
                Err(span) => {
                    let fault = FormulaError::new(span, "a brace is not closed", "opened here");
                    self.formula_fault(&place, fault.hint("write `{m}` for a symbol and `{=m}` for a value"));
                    continue;
                }
            };
            for piece in pieces {
                let (Piece::Symbol(name, span) | Piece::Value(name, span)) = piece else { continue };
                if !names.readable(name) {
                    let fault = FormulaError::new(span, format!("`{name}` is not on the sheet"), "not known here");
                    let known = names.names();
                    let near = crate::report::nearest(name, known.iter().copied());
                    let hint = near.map_or_else(
                        || format!("known are {}", known.join(", ")),
                        |near| format!("did you mean `{near}`?"),
                    );
                    self.formula_fault(&place, fault.hint(hint));
                }
            }
        }
    }

    fn marks(&mut self, pointer: &str, task: &Task) {
        if task.marks.total() == 0 {
            let hint = Some("give `method`, `accuracy`, `unit` or `points`".to_owned());
            self.error(&format!("{pointer}/marks"), format!("the task `{}` earns no marks", task.id), "no marks", hint);
        }
        let ticks = task.graph.as_ref().map(|graph| graph.ticks.len());
        let ticks = ticks.or_else(|| task.text.as_ref().map(|text| text.ticks.len()));
        if let Some(ticks) = ticks.filter(|&ticks| ticks != task.marks.points as usize) {
            let message = format!("the task has {ticks} ticks, but {} points", task.marks.points);
            let hint = Some("a tick earns one point".to_owned());
            self.error(&format!("{pointer}/marks"), message, "marks do not add up", hint);
        }
    }

    fn body(&mut self, pointer: &str, task: &Task, definition: &Definition, names: &mut Names) -> Option<TaskBody> {
        let kinds = [task.number.is_some(), task.column.is_some(), task.graph.is_some(), task.text.is_some()];
        if kinds.iter().filter(|&&given| given).count() != 1 {
            let hint = "give exactly one of `number`, `column`, `graph` and `text`";
            let problem = Problem::error(format!("it is not clear how the task `{}` is answered", task.id));
            self.problems.push(problem.at(self.places.key(format!("{pointer}/id"))).label("in this task").hint(hint));
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
            Some(graph) => self.graph(&format!("{pointer}/graph"), graph, definition),
            None => Some(TaskBody::Text),
        }
    }

    fn answer_name(&mut self, pointer: &str, id: &str, unit: &str, shape: Shape, names: &mut Names) {
        if let Ok(unit) = crate::quantity::Unit::parse(unit) {
            let found = Type { dimension: unit.dimension(), kind: unit.kind(), shape };
            self.name(&format!("{pointer}/id"), id, found, names);
        }
    }

    fn number(&mut self, pointer: &str, number: &NumberTask, names: &Names) -> Option<NumberPlan> {
        let symbol = self.symbol(&format!("{pointer}/symbol"), &number.symbol);
        let form = match (number.figures, number.places) {
            (Some(figures), None) if (1..=9).contains(&figures) => Some(Form::Figures(figures as usize)),
            (None, Some(places)) if places <= 9 => Some(Form::Places(places as usize)),
            _ => {
                let hint = Some("give `figures` (1 to 9) or `places` (0 to 9)".to_owned());
                self.error(pointer, "it is not clear how the answer is rounded", "expected one of the two", hint);
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
        let Ok(unit) = crate::quantity::Unit::parse(&number.unit) else { return Vec::new() };
        let wanted = Type { dimension: unit.dimension(), kind: unit.kind(), shape: Shape::Scalar };
        let mut slips = Vec::with_capacity(number.slips.len());
        for (index, slip) in number.slips.iter().enumerate() {
            let place = format!("{pointer}/{index}/formula");
            let Some((node, found)) = self.formula(&place, &slip.formula, names, false) else { continue };
            match formula::expect(&node, found, wanted, "the answer") {
                Ok(()) => slips.push(node),
                Err(fault) => self.formula_fault(&place, fault),
            }
        }
        slips
    }

    /// A formula and its unit, if they are of one kind.
    fn answer(
        &mut self,
        pointer: &str,
        text: &str,
        unit: &str,
        shape: Shape,
        names: &Names,
    ) -> Option<(Node, crate::quantity::Unit)> {
        let unit = self.unit(&format!("{pointer}/unit"), unit);
        let place = format!("{pointer}/formula");
        let (node, found) = self.formula(&place, text, names, false)?;
        let unit = unit?;
        let wanted = Type { dimension: unit.dimension(), kind: unit.kind(), shape };
        if let Err(fault) = formula::expect(&node, found, wanted, "the answer") {
            self.formula_fault(&place, fault);
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
        }
        for (name, span) in secrets {
            let problem = Problem::error(format!("`{name}` is not told to the student"))
                .at(self.places.inside(pointer, &span))
                .label("not on the sheet")
                .hint(format!("read it with an instrument, or set `told: true` for `{name}`"));
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

    fn graph(&mut self, pointer: &str, graph: &GraphTask, definition: &Definition) -> Option<TaskBody> {
        let schedule = &definition.readings.schedule.column;
        let known: Vec<&str> =
            std::iter::once(schedule.as_str()).chain(definition.readings.table.keys().map(String::as_str)).collect();
        let mut sound = true;
        for (field, name) in [("x", &graph.x), ("y", &graph.y)] {
            if !known.contains(&name.as_str()) {
                self.unknown(&format!("{pointer}/{field}"), "column", name, &known);
                sound = false;
            }
        }
        let numbers: Vec<&str> =
            definition.tasks.iter().filter(|task| task.number.is_some()).map(|task| task.id.as_str()).collect();
        for (index, level) in graph.levels.iter().enumerate() {
            if !numbers.contains(&level.as_str()) {
                self.unknown(&format!("{pointer}/levels/{index}"), "task with a number", level, &numbers);
                sound = false;
            }
        }
        let (x, y, levels) = (graph.x.clone(), graph.y.clone(), graph.levels.clone());
        sound.then_some(TaskBody::Graph(GraphPlan { x, y, levels }))
    }
}

impl Names {
    /// Whether a text can name a symbol or a value on the sheet.
    pub(super) fn readable(&self, name: &str) -> bool {
        self.type_of(name).is_some() && !self.is_hidden(name)
    }
}

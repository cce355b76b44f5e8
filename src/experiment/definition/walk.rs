//! All texts of a definition with their places. In: a definition. Out: JSON pointers and texts, in the file's order.
//! It must leave none out: `check` finds missing translations by it.

use super::{Definition, Task};
use crate::experiment::{Text, place::escape};

impl Definition {
    /// Every text for readers, with its JSON pointer.
    pub fn texts(&self) -> Vec<(String, &Text)> {
        let mut all = vec![("/title".to_owned(), &self.title), ("/aim".to_owned(), &self.aim)];
        list(&mut all, "/kit", &self.kit);
        for (index, step) in self.setting_up.iter().enumerate() {
            all.push((format!("/setting_up/{index}/text"), &step.text));
        }
        all.push(("/picture/alt".to_owned(), &self.picture.alt));
        all.extend(self.picture.labels.iter().map(|(part, text)| (format!("/picture/labels/{}", escape(part)), text)));
        all.extend(self.drawn.iter().map(|(id, drawn)| (format!("/drawn/{}/name", escape(id)), &drawn.name)));
        all.extend(self.given.iter().map(|(id, given)| (format!("/given/{}/name", escape(id)), &given.name)));
        all.extend(self.instruments.iter().map(|(id, one)| (format!("/instruments/{}/name", escape(id)), &one.name)));
        all.push(("/readings/schedule/name".to_owned(), &self.readings.schedule.name));
        for (part, columns) in [("table", &self.readings.table), ("once", &self.readings.once)] {
            let names =
                columns.iter().map(|(id, column)| (format!("/readings/{part}/{}/name", escape(id)), &column.name));
            all.extend(names);
        }
        for (index, condition) in self.conditions.iter().enumerate() {
            all.push((format!("/conditions/{index}/why"), &condition.why));
        }
        all.extend(self.fittable.iter().map(|(id, one)| (format!("/fittable/{}/name", escape(id)), &one.name)));
        let causes = self.compare.iter().enumerate();
        all.extend(causes.map(|(index, cause)| (format!("/compare/{index}/says"), &cause.says)));
        for (index, task) in self.tasks.iter().enumerate() {
            task_texts(&mut all, &format!("/tasks/{index}"), task);
        }
        list(&mut all, "/teacher/background", &self.teacher.background);
        list(&mut all, "/teacher/before", &self.teacher.before);
        for (index, step) in self.teacher.time_plan.iter().enumerate() {
            all.push((format!("/teacher/time_plan/{index}/what"), &step.what));
        }
        list(&mut all, "/teacher/mistakes", &self.teacher.mistakes);
        list(&mut all, "/teacher/questions", &self.teacher.questions);
        all
    }
}

fn list<'a>(all: &mut Vec<(String, &'a Text)>, pointer: &str, texts: &'a [Text]) {
    all.extend(texts.iter().enumerate().map(|(index, text)| (format!("{pointer}/{index}"), text)));
}

fn task_texts<'a>(all: &mut Vec<(String, &'a Text)>, pointer: &str, task: &'a Task) {
    all.push((format!("{pointer}/ask"), &task.ask));
    all.extend(task.help.iter().map(|help| (format!("{pointer}/help"), help)));
    if let Some(number) = &task.number {
        all.extend(number.step.iter().map(|step| (format!("{pointer}/number/step"), step)));
        let slips = number.slips.iter().enumerate();
        all.extend(slips.map(|(index, slip)| (format!("{pointer}/number/slips/{index}/says"), &slip.says)));
        all.extend(number.note.iter().map(|note| (format!("{pointer}/number/note"), note)));
    }
    if let Some(graph) = &task.graph {
        list(all, &format!("{pointer}/graph/ticks"), &graph.ticks);
    }
    if let Some(text) = &task.text {
        all.push((format!("{pointer}/text/model"), &text.model));
        list(all, &format!("{pointer}/text/ticks"), &text.ticks);
    }
}

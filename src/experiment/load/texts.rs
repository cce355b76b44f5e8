//! Texts: every language the same, every hazard known. In: the definition. Out: problems.
//! It must not judge wording.

use super::{Checker, Definition};
use crate::{experiment::Text, language::Language, report::Problem};

impl Checker<'_> {
    pub(super) fn texts(&mut self, definition: &Definition) {
        let languages: Vec<&str> = definition.title.languages().collect();
        for (pointer, text) in definition.texts() {
            self.text(&pointer, text, &languages);
        }
        let steps = definition.setting_up.iter().enumerate();
        let cautions =
            steps.filter_map(|(index, step)| Some((format!("/setting_up/{index}/caution"), step.caution.as_ref()?)));
        let hazards =
            definition.hazards.iter().enumerate().map(|(index, hazard)| (format!("/hazards/{index}"), hazard));
        let known = Language::hazard_keys();
        for (pointer, hazard) in hazards.chain(cautions).collect::<Vec<_>>() {
            if !known.contains(&hazard.as_str()) {
                self.unknown(&pointer, "hazard", hazard, &known);
            }
        }
    }

    /// A caution stands on the sheet as a sign that the list of hazards explains.
    pub(super) fn cautions(&mut self, definition: &Definition) {
        let known = Language::hazard_keys();
        for (index, step) in definition.setting_up.iter().enumerate() {
            let Some(caution) = step.caution.as_ref().filter(|caution| known.contains(&caution.as_str())) else {
                continue;
            };
            if !definition.hazards.contains(caution) {
                let hint = format!("add `{caution}` to `hazards`");
                let place = format!("/setting_up/{index}/caution");
                let problem = Problem::warning(format!("the caution `{caution}` is not among the hazards"));
                self.problems.push(problem.at(self.places.value(place)).label("not listed").hint(hint));
            }
        }
    }

    fn text(&mut self, pointer: &str, text: &Text, languages: &[&str]) {
        for (code, words) in text.entries() {
            let place = format!("{pointer}/{code}");
            if Language::find(code).is_none() {
                let known: Vec<&str> = Language::all().iter().map(|language| language.code.as_str()).collect();
                let hint = crate::report::nearest(code, known.iter().copied()).map_or_else(
                    || format!("known are {}", known.join(", ")),
                    |near| format!("did you mean `{near}`?"),
                );
                let problem = Problem::error(format!("unknown language `{code}`"));
                self.problems.push(problem.at(self.places.key(&place)).label("no such language").hint(hint));
            } else if words.trim().is_empty() {
                self.error(&place, "the text is empty", "expected words", None);
            }
        }
        if text.entries().any(|(code, _)| Language::find(code).is_none()) {
            return;
        }
        for code in languages.iter().filter(|code| !text.languages().any(|own| own == **code)) {
            let hint = format!("the title has `{code}`: add it here, or readers get another language");
            if text.languages().next().is_none() {
                break;
            }
            self.warning(pointer, format!("the text has no `{code}`"), "a translation is missing", &hint);
        }
        if text.languages().next().is_none() {
            self.error(
                pointer,
                "the text has no words",
                "expected words",
                Some("write `en: …`, and the same for every language of the title".to_owned()),
            );
        }
    }
}

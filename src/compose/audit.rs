//! The audit's page. In: what was found out about a set. Out: texts, a field of shares, strips. It must judge nothing.

use super::audit_tasks;
use crate::{
    audit::{Audit, EditionAudit, Rejected},
    experiment::Experiment,
    language::Language,
    quantity::rounding,
    sheet::{AuditEdition, AuditPage, Heat},
};

/// The share of marks that is drawn black.
const BLACK: f64 = 0.5;

/// The audit of a set in words and pictures.
pub fn audit(experiment: &Experiment, audit: &Audit, language: &Language) -> AuditPage {
    let writer = Writer { audit, language };
    let above: usize = audit.editions.iter().map(|edition| edition.pairs.above).sum();
    let pairs: usize = audit.editions.iter().map(|edition| edition.pairs.count).sum();
    let limit = writer.percent(audit.limit);
    let copying = if audit.apart() {
        format!("{} {} {limit}.", writer.heading("audit-copying"), writer.word("audit-within"))
    } else {
        format!("{} {above} / {pairs} {} {limit}.", writer.heading("audit-copying"), writer.word("audit-above"))
    };
    let tasks = audit.editions.iter().flat_map(|edition| &edition.tasks);
    let out: usize = tasks.map(|task| task.measures.iter().filter(|measure| !measure.holds).count()).sum();
    let fair =
        if out == 0 { writer.word("audit-fair").to_owned() } else { format!("{out} {}", writer.word("audit-unfair")) };
    AuditPage {
        lang: language.code.clone(),
        title: experiment.definition.title.printed_in(language).into_owned(),
        about: format!("{} {} · {} {}", writer.heading("class"), audit.class, writer.heading("seed"), audit.seed),
        verdicts: vec![copying, format!("{} {fair}.", writer.heading("audit-difficulty"))],
        editions: audit.editions.iter().map(|edition| writer.edition(edition)).collect(),
        draws: writer.draws(&audit.rejected, experiment),
    }
}

/// Words the findings of one audit.
struct Writer<'a> {
    audit: &'a Audit,
    language: &'a Language,
}

impl Writer<'_> {
    fn word<'k>(&'k self, key: &'k str) -> &'k str {
        self.language.word(key)
    }

    fn heading(&self, key: &str) -> String {
        self.language.heading(key)
    }

    fn percent(&self, share: f64) -> String {
        let number = rounding::to_places(share * 100.0, 1).text;
        let number = number.strip_suffix(".0").unwrap_or(&number);
        format!("{}\u{202F}%", self.language.notation.number(number))
    }

    fn edition(&self, edition: &EditionAudit) -> AuditEdition {
        let (pairs, capacity) = (&edition.pairs, edition.capacity);
        let mut lines = vec![format!(
            "{} {} {}, {} {}.",
            self.word("audit-earns"),
            self.percent(pairs.mean),
            self.word("audit-mean"),
            self.percent(pairs.most),
            self.word("audit-most"),
        )];
        if let Some(first) = pairs.worst.first() {
            let (from, on) = (&edition.sheets[first.from], &edition.sheets[first.on]);
            let share = self.percent(first.share);
            lines.push(format!("{} {from} → {on}, {share} ({})", self.heading("audit-worst"), first.tasks.join(", ")));
        }
        let count = if capacity.least >= capacity.tried {
            format!("{} {}", self.word("audit-at-least"), capacity.tried)
        } else if capacity.least == capacity.most {
            capacity.least.to_string()
        } else {
            format!("{}–{}", capacity.least, capacity.most)
        };
        lines.push(format!("{} {count}", self.heading("audit-capacity")));
        let sheets = edition.sheets.len();
        AuditEdition {
            heading: format!(
                "{} {} · {sheets} {} · {} {}",
                self.heading("edition"),
                self.word(edition.edition.word_key()),
                self.word("audit-sheets"),
                edition.marks,
                self.word("audit-marks"),
            ),
            lines,
            heads: audit_tasks::heads(self.language),
            rows: edition.tasks.iter().map(|task| audit_tasks::row(task, self.language)).collect(),
            heat: self.heat(edition),
            strips: edition.tasks.iter().filter_map(|task| audit_tasks::strip(task, self.language)).collect(),
        }
    }

    fn heat(&self, edition: &EditionAudit) -> Heat {
        let shares = &edition.pairs.shares;
        let side = shares.len();
        let places = (0..side).flat_map(|row| (0..side).map(move |column| (row, column)));
        let luminance = |(row, column): (usize, usize)| {
            let dark = if row == column { 0.0 } else { (shares[row][column] / BLACK).min(1.0) };
            (255.0 * (1.0 - dark)) as u8
        };
        let crosses =
            places.clone().filter(|&(row, column)| row != column && shares[row][column] > self.audit.limit + 1e-9);
        let caption = format!(
            "{} {}; × {} {}",
            self.word("audit-shade"),
            self.percent(BLACK),
            self.word("audit-above"),
            self.percent(self.audit.limit)
        );
        Heat {
            side,
            pixels: places.clone().map(luminance).collect(),
            crosses: crosses.map(|(row, column)| (column, row)).collect(),
            sheets: edition.sheets.clone(),
            alt: format!(
                "{} {}{} {} {} {}, {} {}, {} / {} {} {}.",
                self.word("audit-heat-alt"),
                self.word(edition.edition.word_key()),
                self.word("colon"),
                self.word("audit-earns"),
                self.percent(edition.pairs.mean),
                self.word("audit-mean"),
                self.percent(edition.pairs.most),
                self.word("audit-most"),
                edition.pairs.above,
                edition.pairs.count,
                self.word("audit-above"),
                self.percent(self.audit.limit)
            ),
            axes: (self.word("audit-from").to_owned(), self.word("audit-on").to_owned()),
            caption,
        }
    }

    fn draws(&self, rejected: &Rejected, experiment: &Experiment) -> Vec<String> {
        let mut lines = vec![format!("{} {}", self.heading("audit-draws"), rejected.draws)];
        let conditions = rejected.conditions.iter().zip(&experiment.definition.conditions);
        let conditions = conditions.map(|((holds, count), condition)| {
            (format!("{holds} ({})", condition.why.printed_in(self.language)), *count)
        });
        let others = [("audit-near", rejected.near), ("audit-bench", rejected.bench)];
        let others = others.map(|(key, count)| (self.word(key).to_owned(), count));
        for (reason, count) in conditions.chain(others).filter(|(_, count)| *count > 0) {
            lines.push(format!("{} {count} × {reason}", self.heading("audit-turned-down")));
        }
        lines
    }
}

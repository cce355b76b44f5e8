//! The documents of a set as Typst source. In: pages as data. Out: source text. Templates only place and word.

use minijinja::{AutoEscape, Environment, UndefinedBehavior, context, value::Serde};
use serde::Serialize;

use super::{Leaf, Paper, PressError, Script, Sides, expression, files, mosaic, stencil};
use crate::{
    language::Language,
    sheet::{AuditPage, ClassReport, Cover, Feedback, Grid, Sheet, Teacher},
};

/// The templates, read once.
#[derive(Debug)]
pub struct Documents {
    templates: Environment<'static>,
    sides: Sides,
}

impl Documents {
    /// All templates, strict about names.
    ///
    /// # Errors
    /// If a template is not well formed.
    pub fn new() -> Result<Self, PressError> {
        let mut templates = Environment::new();
        templates.set_undefined_behavior(UndefinedBehavior::Strict);
        templates.set_auto_escape_callback(|_| AutoEscape::None);
        templates.set_loader(|name| Ok(files::text(name).map(str::to_owned)));
        expression::install(&mut templates);
        Ok(Self { templates, sides: Sides::default() })
    }

    /// The same for so many printed sides.
    #[must_use]
    pub fn printed_on(self, sides: Sides) -> Self {
        Self { sides, ..self }
    }

    /// A worksheet.
    ///
    /// # Errors
    /// If the sheet's language is unknown or the template can't be filled in.
    pub fn worksheet(&self, title: &str, sheet: &Sheet, paper: Paper) -> Result<Leaf, PressError> {
        let mosaic = mosaic::pixels(sheet.code.as_deref().unwrap_or_default());
        self.leaf("worksheet", title, sheet, paper, mosaic)
    }

    /// A key.
    ///
    /// # Errors
    /// As for a worksheet.
    pub fn key(&self, title: &str, sheet: &Sheet, paper: Paper) -> Result<Leaf, PressError> {
        self.leaf("key", title, sheet, paper, Vec::new())
    }

    /// The marking grid.
    ///
    /// # Errors
    /// As for worksheets.
    pub fn grid(&self, grid: &Grid, paper: Paper) -> Result<Leaf, PressError> {
        known(&grid.lang)?;
        let view = context! { grid => Serde(grid), paper => Serde(paper) };
        Ok(Leaf {
            body: Script {
                pieces: vec![self.fill_marked("grid-rows.typ.j2", view.clone())?],
                ..self.fill("grid.typ.j2", view.clone())?.into()
            },
            own: None,
            margins: self.fill("grid-margins.typ.j2", view)?,
        })
    }

    /// The teacher's notes.
    ///
    /// # Errors
    /// As for worksheets.
    pub fn teacher(&self, teacher: &Teacher, paper: Paper) -> Result<String, PressError> {
        known(&teacher.lang)?;
        self.fill("teacher.typ.j2", context! { teacher => Serde(teacher), paper => Serde(paper) })
    }

    /// The page that a student gets back.
    ///
    /// # Errors
    /// As for worksheets.
    pub fn feedback(&self, title: &str, feedback: &Feedback, paper: Paper) -> Result<Leaf, PressError> {
        known(&feedback.lang)?;
        let view = context! { title, sheet => Serde(feedback), paper => Serde(paper), mirrored => false };
        Ok(Leaf {
            body: self.fill("feedback.typ.j2", view.clone())?.into(),
            own: Some(self.fill("feedback-own.typ.j2", view.clone())?.into()),
            margins: self.fill("worksheet-margins.typ.j2", view)?,
        })
    }

    /// The report of a marked class.
    ///
    /// # Errors
    /// As for worksheets.
    pub fn class_report(&self, page: &ClassReport, paper: Paper) -> Result<String, PressError> {
        known(&page.lang)?;
        self.fill("class-report.typ.j2", context! { page => Serde(page), paper => Serde(paper) })
    }

    /// The sheet on top of a set.
    ///
    /// # Errors
    /// As for worksheets.
    pub fn cover(&self, cover: &Cover, paper: Paper) -> Result<String, PressError> {
        known(&cover.lang)?;
        self.fill("cover.typ.j2", context! { cover => Serde(cover), paper => Serde(paper) })
    }

    /// The audit of a set.
    ///
    /// # Errors
    /// As for worksheets.
    pub fn audit(&self, page: &AuditPage, paper: Paper) -> Result<String, PressError> {
        known(&page.lang)?;
        self.fill("audit.typ.j2", context! { page => Serde(page), paper => Serde(paper) })
    }

    /// Each block goes into a piece of its own, so that equal blocks of two students are equal sources.
    fn leaf(
        &self,
        template: &str,
        title: &str,
        sheet: &Sheet,
        paper: Paper,
        mosaic: Vec<u8>,
    ) -> Result<Leaf, PressError> {
        known(&sheet.lang)?;
        let view = context! { title, sheet => Serde(View { sheet, marks: sheet.marks(), block_count: sheet.blocks.len() }), paper => Serde(paper), mirrored => self.sides == Sides::Both };
        let drawings: Vec<_> = sheet.drawings().collect();
        let labels = context! { lang => &sheet.lang, large => sheet.large };
        let piece = format!("{template}-block.typ.j2");
        let pieces = sheet
            .blocks
            .iter()
            .map(|block| self.fill_marked(&piece, context! { sheet => labels.clone(), block => Serde(block) }));
        Ok(Leaf {
            body: Script {
                pieces: pieces.collect::<Result<_, _>>()?,
                main: self.fill(&format!("{template}.typ.j2"), view.clone())?,
                mosaic: Vec::new(),
            },
            own: Some(Script {
                mosaic,
                ..self
                    .fill(&format!("{template}-own.typ.j2"), context! { drawings => Serde(drawings), ..view.clone() })?
                    .into()
            }),
            margins: self.fill(&format!("{template}-margins.typ.j2"), view)?,
        })
    }

    /// Source without marks, for what is set once.
    fn fill(&self, template: &str, values: minijinja::Value) -> Result<String, PressError> {
        self.fill_marked(template, values).map(|source| stencil::plain(&source))
    }

    fn fill_marked(&self, template: &str, values: minijinja::Value) -> Result<String, PressError> {
        Ok(self.templates.get_template(template)?.render(values)?)
    }
}

/// A sheet with what a template may not add up itself.
#[derive(Serialize)]
struct View<'a> {
    #[serde(flatten)]
    sheet: &'a Sheet,
    marks: u32,
    block_count: usize,
}

fn known(lang: &str) -> Result<(), PressError> {
    Language::find(lang).map(|_| ()).ok_or_else(|| PressError::Language(lang.to_owned()))
}

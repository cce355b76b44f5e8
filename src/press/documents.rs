//! The documents of a set as Typst source. In: pages as data. Out: source text. Templates only place and word.

use minijinja::{AutoEscape, Environment, UndefinedBehavior, context, value::Serde};
use serde::Serialize;

use super::{Paper, PressError, expression, files};
use crate::{
    language::Language,
    sheet::{Grid, Sheet, Teacher},
};

/// The templates, read once.
#[derive(Debug)]
pub struct Documents {
    templates: Environment<'static>,
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
        Ok(Self { templates })
    }

    /// A volume of worksheets.
    ///
    /// # Errors
    /// If a sheet's language is unknown or the template can't be filled in.
    pub fn worksheets(&self, title: &str, sheets: &[Sheet], paper: Paper) -> Result<String, PressError> {
        self.volume("worksheet.typ.j2", title, sheets, paper)
    }

    /// A volume of keys.
    ///
    /// # Errors
    /// As for worksheets.
    pub fn keys(&self, title: &str, sheets: &[Sheet], paper: Paper) -> Result<String, PressError> {
        self.volume("key.typ.j2", title, sheets, paper)
    }

    /// The marking grid.
    ///
    /// # Errors
    /// As for worksheets.
    pub fn grid(&self, grid: &Grid, paper: Paper) -> Result<String, PressError> {
        known(&grid.lang)?;
        self.fill("grid.typ.j2", context! { grid => Serde(grid), paper => Serde(paper) })
    }

    /// The teacher's notes.
    ///
    /// # Errors
    /// As for worksheets.
    pub fn teacher(&self, teacher: &Teacher, paper: Paper) -> Result<String, PressError> {
        known(&teacher.lang)?;
        self.fill("teacher.typ.j2", context! { teacher => Serde(teacher), paper => Serde(paper) })
    }

    fn volume(&self, template: &str, title: &str, sheets: &[Sheet], paper: Paper) -> Result<String, PressError> {
        let mut views = Vec::with_capacity(sheets.len());
        for sheet in sheets {
            known(&sheet.lang)?;
            views.push(View { sheet, marks: sheet.marks() });
        }
        self.fill(template, context! { title, sheets => Serde(views), paper => Serde(paper) })
    }

    fn fill(&self, template: &str, values: minijinja::Value) -> Result<String, PressError> {
        Ok(self.templates.get_template(template)?.render(values)?)
    }
}

/// A sheet with what a template may not add up itself.
#[derive(Serialize)]
struct View<'a> {
    #[serde(flatten)]
    sheet: &'a Sheet,
    marks: u32,
}

fn known(lang: &str) -> Result<(), PressError> {
    Language::find(lang).map(|_| ()).ok_or_else(|| PressError::Language(lang.to_owned()))
}

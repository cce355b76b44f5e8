//! Values as Typst expressions. In: values of a template. Out: Typst code that means exactly these values.
//! No text may ever reach Typst as markup or code; mathematics passes by a filter of its own.

use minijinja::{
    Environment, Error, ErrorKind, Output, State,
    value::{Value, ValueKind},
};

use super::stencil;
use crate::{formula::math::quote, language::Language};

/// Width of a sign, in em: common practice, no source; digits of the shipped face have 0.5.
const EM_PER_SIGN: f64 = 0.52;

/// Makes every printed value a Typst expression, and adds the filters that print mathematics and texts with numbers in them.
///
/// `rich`, `maths`, `printed`, `in_order` and `spoken` mark texts with digits for [`stencil`]; whatever else is printed stays a plain value.
pub(crate) fn install(environment: &mut Environment<'_>) {
    environment.set_formatter(format);
    environment.add_filter("maths", maths);
    environment.add_filter("rich", rich);
    environment.add_filter("printed", printed);
    environment.add_filter("in_order", in_order);
    environment.add_filter("spoken", spoken);
    environment.add_filter("ems", ems);
    environment.add_global("ink", Value::from_safe_string(stencil::ink()));
}

/// A module of Typst with the words of a language.
pub(crate) fn words(language: &Language) -> String {
    let mut code = String::from("#let words = (\n");
    for (key, word) in language.words() {
        code.push_str(&format!("  {}: {},\n", quote(key), quote(word)));
    }
    code.push_str(")\n");
    code
}

/// A module of Typst with the families of running text and of mathematics, in the order in which they are asked.
pub(crate) fn font_families(text: &[&str], maths: &[&str]) -> String {
    let list = |names: &[&str]| names.iter().map(|name| format!("{},", quote(name))).collect::<String>();
    format!("#let running = ({})\n#let maths = ({}{})\n", list(text), list(maths), list(text))
}

fn format(out: &mut Output, _state: &mut State, value: &Value) -> Result<(), Error> {
    let mut code = String::new();
    write(&mut code, value, quote)?;
    std::fmt::Write::write_str(out, &code).map_err(Error::from)
}

fn write(code: &mut String, value: &Value, literal: fn(&str) -> String) -> Result<(), Error> {
    match value.kind() {
        ValueKind::None => code.push_str("none"),
        ValueKind::Bool => code.push_str(if value.is_true() { "true" } else { "false" }),
        ValueKind::Number => code.push_str(&value.to_string()),
        ValueKind::String => {
            let text = value.as_str().unwrap_or_default();
            if value.is_safe() { code.push_str(text) } else { code.push_str(&literal(text)) }
        }
        ValueKind::Seq | ValueKind::Iterable => {
            code.push('(');
            for item in value.try_iter()? {
                write(code, &item, literal)?;
                code.push(',');
            }
            code.push(')');
        }
        ValueKind::Map => {
            code.push_str("(:");
            let mut first = true;
            for key in value.try_iter()? {
                if first {
                    code.pop();
                    first = false;
                }
                write(code, &key, quote)?;
                code.push(':');
                write(code, &value.get_item(&key)?, literal)?;
                code.push(',');
            }
            code.push(')');
        }
        kind => {
            return Err(Error::new(ErrorKind::BadEscape, format!("no Typst expression for a value that is {kind}")));
        }
    }
    Ok(())
}

/// Typst code of a mathematical expression with its reading.
fn maths(value: &Value) -> Result<Value, Error> {
    let mut code = String::new();
    write_maths(&mut code, value)?;
    Ok(Value::from_safe_string(code))
}

/// Typst code of texts, alone or in lists and maps, that are only ever printed.
fn printed(value: &Value) -> Result<Value, Error> {
    let mut code = String::new();
    write(&mut code, value, stencil::printed)?;
    Ok(Value::from_safe_string(code))
}

/// The same of texts that stand on the pages in the order of the source.
fn in_order(value: &Value) -> Result<Value, Error> {
    let mut code = String::new();
    write(&mut code, value, stencil::in_order)?;
    Ok(Value::from_safe_string(code))
}

/// Typst code of a text that is only ever spoken.
fn spoken(value: &Value) -> Result<Value, Error> {
    let mut code = String::new();
    write(&mut code, value, stencil::spoken)?;
    Ok(Value::from_safe_string(code))
}

/// Typst code of running text: a content block of strings and mathematics.
fn rich(value: &Value) -> Result<Value, Error> {
    let mut code = String::from("[");
    for run in value.try_iter()? {
        code.push('#');
        match run.as_str() {
            Some(text) => code.push_str(&stencil::printed(text)),
            None => write_maths(&mut code, &run)?,
        }
        code.push(';');
    }
    code.push(']');
    Ok(Value::from_safe_string(code))
}

/// About how wide running text is, in em: enough for any text of letters.
fn ems(value: &Value) -> Result<f64, Error> {
    let mut signs = 0;
    for run in value.try_iter()? {
        let text = if run.as_str().is_some() { run } else { run.get_attr("alt")? };
        signs += text.as_str().map_or(0, |text| text.chars().count());
    }
    Ok(signs as f64 * EM_PER_SIGN)
}

fn write_maths(code: &mut String, value: &Value) -> Result<(), Error> {
    let (typst, alt) = (value.get_attr("typst")?, value.get_attr("alt")?);
    let (Some(typst), Some(alt)) = (typst.as_str(), alt.as_str()) else {
        return Err(Error::new(ErrorKind::InvalidOperation, "mathematics needs both its source and its reading"));
    };
    // The inside of an equation is set anew with its reading.
    code.push_str(&format!("math.equation(alt: {}, $ {} $.body)", stencil::spoken(alt), stencil::maths(typst)));
    Ok(())
}

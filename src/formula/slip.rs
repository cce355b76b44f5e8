//! What authors write in place of a formula. In: a text and the place where reading stopped, or an unknown function.
//! Out: what was found there, and the fix. It must not read formulas itself.

use super::{FormulaError, functions, is_name};

/// Where reading stopped: the text around the place.
struct Stop<'a> {
    text: &'a str,
    /// The first sign that could not be read.
    at: usize,
    before: &'a str,
    rest: &'a str,
}

impl Stop<'_> {
    fn fault(&self, length: usize, message: impl Into<String>, label: &str, hint: impl Into<String>) -> FormulaError {
        FormulaError::new(self.at..self.at + length, message, label).hint(hint)
    }

    /// The name that ends right before the place.
    fn word_before(&self) -> &str {
        let start = self.before.rfind(|sign: char| !(sign.is_alphanumeric() || sign == '_'));
        let width = |at: usize| self.before[at..].chars().next().map_or(0, char::len_utf8);
        &self.before[start.map_or(0, |at| at + width(at))..]
    }

    /// The name or number that begins at the place.
    fn word_behind(&self) -> &str {
        let end = self.rest.find(|sign: char| !(sign.is_alphanumeric() || matches!(sign, '_' | '.')));
        &self.rest[..end.unwrap_or(self.rest.len())]
    }

    /// The place of a bracket that is still open.
    fn open_bracket(&self) -> Option<usize> {
        let mut open = Vec::new();
        for (at, sign) in self.before.char_indices() {
            match sign {
                '(' => open.push(at),
                ')' => drop(open.pop()),
                _ => {}
            }
        }
        open.pop()
    }
}

/// The fault at the place where reading stopped.
pub(super) fn syntax(text: &str, at: usize) -> FormulaError {
    let at = at + text[at..].len() - text[at..].trim_start().len();
    let stop = Stop { text, at, before: text[..at].trim_end(), rest: &text[at..] };
    let Some(sign) = stop.rest.chars().next() else { return too_early(&stop) };
    match sign {
        '=' | '<' | '>' | '≤' | '≥' => comparison(&stop, sign),
        ',' => comma(&stop),
        ')' if stop.open_bracket().is_none() => {
            stop.fault(1, "a `)` without its `(`", "closes nothing", "delete it, or open the bracket before")
        }
        sign if sign.is_alphanumeric() || sign == '(' => no_operation(&stop),
        sign => strange(&stop, sign),
    }
}

fn too_early(stop: &Stop<'_>) -> FormulaError {
    if stop.text.trim().is_empty() {
        return FormulaError::new(0..stop.text.len(), "the formula is empty", "expected a formula")
            .hint("write the right-hand side, such as `m * c * rise`");
    }
    let unfinished = stop.before.ends_with(['+', '-', '*', '/', '^', '·', '−', ',', '(', '<', '>', '=']);
    match stop.open_bracket() {
        Some(open) if !unfinished => FormulaError::new(open..open + 1, "a bracket is not closed", "opened here")
            .hint(format!("add `)`, such as `{})`", stop.text.trim())),
        _ => {
            let last = stop.before.char_indices().last().map_or(0, |(at, _)| at);
            FormulaError::new(last..stop.before.len(), "the formula ends too early", "something is missing behind it")
                .hint("finish the last operation, or delete it")
        }
    }
}

fn comparison(stop: &Stop<'_>, sign: char) -> FormulaError {
    let length = sign.len_utf8();
    if let Some(open) = stop.open_bracket() {
        let hint = format!("add `)` before the `{sign}`");
        return FormulaError::new(open..open + 1, "a bracket is not closed", "opened here").hint(hint);
    }
    for (written, meant) in [("=>", ">="), ("=<", "<=")] {
        if stop.rest.starts_with(written) {
            return stop.fault(2, format!("found `{written}`"), "no comparison", format!("write `{meant}`"));
        }
    }
    if sign != '=' {
        let hint = "write each comparison as a condition of its own";
        return stop.fault(length, format!("a second comparison `{sign}`"), "one comparison is enough", hint);
    }
    let hint = "write only the right-hand side; a condition compares with `<`, `<=`, `>` or `>=`";
    stop.fault(length, "found `=` in a formula", "a formula has one side", hint)
}

fn comma(stop: &Stop<'_>) -> FormulaError {
    let whole = stop.word_before();
    let decimals: String = stop.rest[1..].chars().take_while(char::is_ascii_digit).collect();
    if !decimals.is_empty() && !whole.is_empty() && whole.bytes().all(|digit| digit.is_ascii_digit()) {
        let span = stop.before.len() - whole.len()..stop.at + 1 + decimals.len();
        let message = format!("`{}` has a comma in it", &stop.text[span.clone()]);
        return FormulaError::new(span, message, "not a number")
            .hint(format!("write a decimal point: `{whole}.{decimals}`"));
    }
    let hint = "a comma only separates the arguments of a function; write decimals with a point";
    stop.fault(1, "found `,` in a formula", "separates nothing", hint)
}

fn no_operation(stop: &Stop<'_>) -> FormulaError {
    let (before, behind) = (stop.word_before(), stop.word_behind());
    let found = if behind.is_empty() { "(" } else { behind };
    let message = format!("found `{found}` with no operation before it");
    let fault = |hint: String| stop.fault(found.len(), &message, "expected an operation", hint);
    if stop.before.is_empty() {
        return stop.fault(found.len(), format!("found `{found}`"), "not a formula here", WRITE);
    }
    if let Some(function) = functions::find(before) {
        // A word before it was taken for a unit: `13 K and limit(T, t)`.
        if found == "(" {
            let start = stop.before.len() - before.len();
            let earlier = stop.before[..start].trim_end();
            let message = format!("found `{before}` with no operation before it");
            let word = earlier.rsplit(' ').next().unwrap_or_default();
            let hint = match word {
                "and" | "or" | "und" | "oder" => "write each comparison as a condition of its own".to_owned(),
                _ => format!("write products with `*`: `… * {before}(…)`"),
            };
            return FormulaError::new(start..stop.before.len(), message, "expected an operation").hint(hint);
        }
        let angle = if matches!(before, "sin" | "cos" | "tan") && found.parse::<f64>().is_ok() { "°" } else { "" };
        let argument = if found == "(" { "x" } else { found };
        return fault(format!("put what `{}` is taken of in brackets: `{before}({argument}{angle})`", function.name));
    }
    match found {
        "x" | "X" => fault("write the multiplication sign as `*`".to_owned()),
        "and" | "or" | "und" | "oder" => fault("write each comparison as a condition of its own".to_owned()),
        _ => {
            let left = if before.is_empty() { ")" } else { before };
            fault(format!("write products with `*`: `{left} * {found}`"))
        }
    }
}

/// What a formula is made of.
const WRITE: &str = "use numbers with units, names, `+ - * / ^`, brackets, and functions such as `first(T)`";

fn strange(stop: &Stop<'_>, sign: char) -> FormulaError {
    let length = sign.len_utf8();
    let name = stop.word_before();
    let name = if is_name(name) { name } else { "T" };
    let found = |length: usize, hint: String| {
        let written = &stop.rest[..length];
        stop.fault(length, format!("found `{written}` in a formula"), "not a formula here", hint)
    };
    match sign {
        '*' if stop.before.ends_with('*') => {
            let start = stop.before.len() - 1;
            FormulaError::new(start..stop.at + 1, "found `**` in a formula", "not an operation")
                .hint("write powers with `^`, such as `t^2`")
        }
        '*' | '/' | '·' | '×' | '÷' | '^' | ')' | '+' if !stop.before.is_empty() => {
            let hint = "put a number or a name before it, or delete one of the two signs";
            stop.fault(length, format!("found `{sign}` where a number or a name should be"), "expected a value", hint)
        }
        '[' => {
            let hint = format!("pick a row with `first({name})`, `last({name})` or `at({name}, t, 10 min)`");
            found(length, hint)
        }
        '.' if stop.rest[1..].starts_with(|next: char| next.is_ascii_digit()) => {
            let digits = stop.rest[1..].bytes().take_while(u8::is_ascii_digit).count();
            found(1 + digits, format!("write a digit before the point: `0{}`", &stop.rest[..1 + digits]))
        }
        ':' => found(length, "divide with `/`".to_owned()),
        ';' => found(length, "separate the arguments of a function with `,`".to_owned()),
        '–' | '—' => found(length, "write the minus sign as `-`".to_owned()),
        '√' => found(length, "write `sqrt(x)`".to_owned()),
        '|' => found(length, "write `abs(x)`".to_owned()),
        '{' | '}' => found(length, "write names without braces; those belong to texts".to_owned()),
        '"' | '\'' => found(length, "write formulas without quotes inside".to_owned()),
        '&' => found(length, "write each comparison as a condition of its own".to_owned()),
        _ => found(length, WRITE.to_owned()),
    }
}

/// Other words for functions, with the function or the way to write it.
static WORDS: &[(&[&str], &str)] = &[
    (&["log"], "`lg` is the decimal logarithm, `ln` the natural one"),
    (&["log10"], "write `lg`"),
    (&["average", "avg"], "write `mean`"),
    (&["std", "stddev", "sd"], "write `stdev`"),
    (&["gradient"], "write `slope`"),
    (&["integral", "integrate"], "write `area`"),
    (&["root"], "write `sqrt`"),
    (&["pow", "power"], "write a power as `t^2`"),
    (&["delta", "diff"], "write the difference of two readings, such as `last(T) - first(T)`"),
];

/// From this length on, an unknown name before a bracket looks like a function and not like a symbol.
const LONG: usize = 4;

/// How to mend a function that is not known.
pub(super) fn unknown_function(name: &str) -> String {
    let word = WORDS.iter().find(|(words, _)| words.contains(&name.to_lowercase().as_str()));
    match (word, crate::report::nearest(name, functions::names())) {
        (Some((_, hint)), _) => (*hint).to_owned(),
        (None, Some(near)) => format!("did you mean `{near}`?"),
        (None, None) if name.chars().count() < LONG => {
            format!("write `{name} * (…)` to multiply by a bracket, `at({name}, t, 10 min)` to pick a reading")
        }
        (None, None) => {
            let known = functions::names().collect::<Vec<_>>().join(", ");
            format!("write `{name} * (…)` to multiply; functions are {known}")
        }
    }
}

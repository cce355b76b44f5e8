//! The functions of the formula language: one row each. In: columns and numbers in SI. Out: the same.
//! A function must not know which experiment uses it.

use super::function::{Argument, Body, Look, Outcome, Sensitivity};
use super::{Approach, EvaluationError, Function, Line};
use Argument::{Any, AtX, ColumnX, ColumnY, Pure, Temperature};

/// The function of a name.
pub fn find(name: &str) -> Option<&'static Function> {
    ALL.iter().find(|function| function.name == name)
}

/// All functions, in the order of the documentation.
pub fn all() -> &'static [Function] {
    ALL
}

/// The names of all functions.
pub fn names() -> impl Iterator<Item = &'static str> {
    ALL.iter().map(|function| function.name)
}

const fn row(
    name: &'static str,
    pattern: &'static str,
    about: &'static str,
    arguments: &'static [Argument],
    result: Outcome,
    body: Body,
    look: Look,
) -> Function {
    let (kinked, fitted, by_reading) = (false, false, None);
    Function { name, pattern, about, arguments, optional: 0, result, body, look, kinked, fitted, by_reading }
}

const fn ranged(function: Function) -> Function {
    Function { optional: 2, ..function }
}

const fn kinked(function: Function) -> Function {
    Function { kinked: true, ..function }
}

const fn fitted(function: Function) -> Function {
    Function { fitted: true, ..function }
}

const fn searched(function: Function, by_reading: Sensitivity) -> Function {
    Function { by_reading: Some(by_reading), ..fitted(function) }
}

#[rustfmt::skip]
static ALL: &[Function] = &[
    row("first", "first(T)", "the first reading of a column", &[ColumnY], Outcome::Y, Body::Number(first), Look::Reading),
    row("last", "last(T)", "the last reading of a column", &[ColumnY], Outcome::Y, Body::Number(last), Look::Reading),
    kinked(row("at", "at(T, t, 10 min)", "the reading in the row where t is nearest to the value", &[ColumnY, ColumnX, AtX], Outcome::Y, Body::Number(at), Look::Reading)),
    row("mean", "mean(T)", "arithmetic mean", &[ColumnY], Outcome::Y, Body::Number(mean), Look::Mean),
    row("stdev", "stdev(T)", "standard deviation of a sample (n − 1)", &[ColumnY], Outcome::DifferenceY, Body::Number(stdev), Look::Name("s")),
    row("sum", "sum(E)", "sum of a column", &[ColumnY], Outcome::DifferenceY, Body::Number(sum), Look::Name("Σ")),
    kinked(row("min", "min(T)", "smallest reading", &[ColumnY], Outcome::Y, Body::Number(smallest), Look::Extreme("min"))),
    kinked(row("max", "max(T)", "largest reading", &[ColumnY], Outcome::Y, Body::Number(largest), Look::Extreme("max"))),
    row("differences", "differences(T)", "each reading less the one before; one row fewer", &[ColumnY], Outcome::DifferencesY, Body::Column(differences), Look::Name("Δ")),
    row("midpoints", "midpoints(t)", "the middle of each pair of neighbours; one row fewer", &[ColumnX], Outcome::ColumnX, Body::Column(midpoints), Look::Name("mid")),
    ranged(row("area", "area(P, t) or area(P, t, 0 s, 60 s)", "area under a curve by trapezia", &[ColumnY, ColumnX, AtX, AtX], Outcome::Area, Body::Number(area), Look::Area)),
    kinked(row("interpolate", "interpolate(T, t, 10 min)", "the value of T where t first passes the value, on straight lines between readings; swap the columns to read the other way", &[ColumnY, ColumnX, AtX], Outcome::Y, Body::Number(interpolate), Look::Reading)),
    fitted(ranged(row("slope", "slope(T, t) or slope(T, t, 0 s, 60 s)", "slope of the least-squares line, over a range of t if given", &[ColumnY, ColumnX, AtX, AtX], Outcome::Slope, Body::Number(slope), Look::Slope))),
    fitted(ranged(row("intercept", "intercept(T, t) or intercept(T, t, 0 s, 60 s)", "value of the least-squares line at t = 0", &[ColumnY, ColumnX, AtX, AtX], Outcome::Y, Body::Number(intercept), Look::Intercept))),
    fitted(ranged(row("slope_u", "slope_u(T, t)", "standard uncertainty of the slope", &[ColumnY, ColumnX, AtX, AtX], Outcome::Slope, Body::Number(slope_u), Look::Name("u")))),
    fitted(ranged(row("intercept_u", "intercept_u(T, t)", "standard uncertainty of the intercept", &[ColumnY, ColumnX, AtX, AtX], Outcome::DifferenceY, Body::Number(intercept_u), Look::Name("u")))),
    searched(row("limit", "limit(T, t)", "the value that T tends to, by the fit of an exponential approach", &[ColumnY, ColumnX], Outcome::Y, Body::Number(limit), Look::Curve("lim")), limit_by_reading),
    searched(row("time_constant", "time_constant(T, t)", "the constant of that approach", &[ColumnY, ColumnX], Outcome::DifferenceX, Body::Number(time_constant), Look::Curve("τ")), time_constant_by_reading),
    row("sqrt", "sqrt(x)", "square root", &[Any], Outcome::Root, Body::Each(libm::sqrt), Look::Root),
    kinked(row("abs", "abs(x)", "absolute value", &[Any], Outcome::SameY, Body::Each(libm::fabs), Look::Bars)),
    row("exp", "exp(x)", "exponential function", &[Pure], Outcome::Pure, Body::Each(libm::exp), Look::Name("exp")),
    row("ln", "ln(x)", "natural logarithm", &[Pure], Outcome::Pure, Body::Each(libm::log), Look::Name("ln")),
    row("lg", "lg(x)", "decimal logarithm", &[Pure], Outcome::Pure, Body::Each(libm::log10), Look::Name("lg")),
    row("sin", "sin(a)", "sine of an angle", &[Pure], Outcome::Pure, Body::Each(libm::sin), Look::Name("sin")),
    row("cos", "cos(a)", "cosine of an angle", &[Pure], Outcome::Pure, Body::Each(libm::cos), Look::Name("cos")),
    row("tan", "tan(a)", "tangent of an angle", &[Pure], Outcome::Pure, Body::Each(libm::tan), Look::Name("tan")),
    row("absolute", "absolute(T)", "a temperature in kelvins that can be multiplied", &[Temperature], Outcome::Absolute, Body::Each(same), Look::Absolute),
];

type Number = Result<f64, EvaluationError>;

fn same(number: f64) -> f64 {
    number
}

fn empty() -> EvaluationError {
    EvaluationError::new("the column has no readings")
}

fn first(columns: &[&[f64]]) -> Number {
    columns[0].first().copied().ok_or_else(empty)
}

fn last(columns: &[&[f64]]) -> Number {
    columns[0].last().copied().ok_or_else(empty)
}

/// The row whose abscissa is nearest to `wanted`; the earlier of two equally near.
pub fn nearest_row(x: &[f64], wanted: f64) -> Option<usize> {
    (0..x.len()).min_by(|&a, &b| (x[a] - wanted).abs().total_cmp(&(x[b] - wanted).abs()))
}

fn at(columns: &[&[f64]]) -> Number {
    let row = nearest_row(columns[1], columns[2][0]).ok_or_else(empty)?;
    columns[0].get(row).copied().ok_or_else(empty)
}

fn sum(columns: &[&[f64]]) -> Number {
    Ok(columns[0].iter().sum())
}

fn mean(columns: &[&[f64]]) -> Number {
    if columns[0].is_empty() { Err(empty()) } else { Ok(columns[0].iter().sum::<f64>() / columns[0].len() as f64) }
}

fn stdev(columns: &[&[f64]]) -> Number {
    let (count, mean) = (columns[0].len(), mean(columns)?);
    if count < 2 {
        return Err(EvaluationError::new("a standard deviation needs two readings"));
    }
    let squares: f64 = columns[0].iter().map(|y| (y - mean) * (y - mean)).sum();
    Ok(libm::sqrt(squares / (count as f64 - 1.0)))
}

fn smallest(columns: &[&[f64]]) -> Number {
    columns[0].iter().copied().reduce(f64::min).ok_or_else(empty)
}

fn largest(columns: &[&[f64]]) -> Number {
    columns[0].iter().copied().reduce(f64::max).ok_or_else(empty)
}

fn differences(columns: &[&[f64]]) -> Result<Vec<f64>, EvaluationError> {
    Ok(columns[0].windows(2).map(|pair| pair[1] - pair[0]).collect())
}

fn midpoints(columns: &[&[f64]]) -> Result<Vec<f64>, EvaluationError> {
    Ok(columns[0].windows(2).map(|pair| (pair[0] + pair[1]) / 2.0).collect())
}

/// The rows whose abscissa lies between two ends, or all rows where no ends are given.
pub fn rows_within(x: &[f64], ends: &[f64]) -> Vec<usize> {
    let (from, to) = match ends {
        [one, other, ..] => (one.min(*other), one.max(*other)),
        _ => (f64::NEG_INFINITY, f64::INFINITY),
    };
    (0..x.len()).filter(|&row| (from..=to).contains(&x[row])).collect()
}

/// The points between the two limits, or all of them.
fn within(columns: &[&[f64]]) -> (Vec<f64>, Vec<f64>) {
    let ends: Vec<f64> = columns[2..].iter().filter_map(|end| end.first().copied()).collect();
    let rows = rows_within(columns[1], &ends);
    rows.into_iter().filter_map(|row| Some((*columns[1].get(row)?, *columns[0].get(row)?))).unzip()
}

fn area(columns: &[&[f64]]) -> Number {
    let (x, y) = within(columns);
    if x.len() < 2 {
        return Err(EvaluationError::new("an area needs two readings in its range"));
    }
    Ok(x.windows(2).zip(y.windows(2)).map(|(x, y)| (x[1] - x[0]) * (y[0] + y[1]) / 2.0).sum())
}

fn interpolate(columns: &[&[f64]]) -> Number {
    let (y, x, wanted) = (columns[0], columns[1], columns[2][0]);
    for (x, y) in x.windows(2).zip(y.windows(2)) {
        if (x[0].min(x[1])..=x[0].max(x[1])).contains(&wanted) {
            let share = if x[1] == x[0] { 0.0 } else { (wanted - x[0]) / (x[1] - x[0]) };
            return Ok(y[0] + share * (y[1] - y[0]));
        }
    }
    Err(EvaluationError::new("the readings never pass the value asked for"))
}

fn line(columns: &[&[f64]]) -> Result<Line, EvaluationError> {
    let (x, y) = within(columns);
    Ok(Line::fit(&x, &y)?)
}

fn slope(columns: &[&[f64]]) -> Number {
    Ok(line(columns)?.slope)
}

fn intercept(columns: &[&[f64]]) -> Number {
    Ok(line(columns)?.intercept)
}

fn slope_u(columns: &[&[f64]]) -> Number {
    Ok(line(columns)?.slope_u)
}

fn intercept_u(columns: &[&[f64]]) -> Number {
    Ok(line(columns)?.intercept_u)
}

fn limit(columns: &[&[f64]]) -> Number {
    Ok(Approach::fit(columns[1], columns[0], None)?.limit)
}

fn time_constant(columns: &[&[f64]]) -> Number {
    Ok(Approach::fit(columns[1], columns[0], None)?.constant)
}

fn limit_by_reading(columns: &[&[f64]]) -> Result<Vec<f64>, EvaluationError> {
    approach_by_reading(columns, 0)
}

fn time_constant_by_reading(columns: &[&[f64]]) -> Result<Vec<f64>, EvaluationError> {
    approach_by_reading(columns, 1)
}

fn approach_by_reading(columns: &[&[f64]], parameter: usize) -> Result<Vec<f64>, EvaluationError> {
    let (_, fit) = Approach::search(columns[1], columns[0], None)?;
    fit.sensitivities.into_iter().nth(parameter).ok_or_else(empty)
}

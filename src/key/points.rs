//! The two points from which a reader checks a fitted line. In: a call of `slope` or `intercept`, values, the decimals of
//! the columns. Out: the line's points at the ends of its range, rounded. They must lie on the line, not on readings.

use crate::{
    formula::{self, Line, Node, NodeKind, Values},
    quantity::{
        Unit,
        rounding::{self, Rounded},
    },
};

/// The points `(x, y)` of the fitted line at the first and last abscissa of its range, the ordinates with one decimal
/// more than the readings; nothing where the call fits no line. Columns come with the unit and decimals of their print.
pub fn line_points(
    call: &Node,
    values: &dyn Values,
    (y_unit, y_places): (&Unit, usize),
    (x_unit, x_places): (&Unit, usize),
) -> Option<[(Rounded, Rounded); 2]> {
    let NodeKind::Call(_, arguments) = &call.kind else { return None };
    let [y, x, ends @ ..] = arguments.as_slice() else { return None };
    let (y, x) = (formula::evaluate(y, values).ok()?, formula::evaluate(x, values).ok()?);
    let ends = ends.iter().map(|end| formula::evaluate(end, values).map(|value| value.number()));
    let rows = formula::functions::rows_within(x.data(), &ends.collect::<Result<Vec<_>, _>>().ok()?);
    let (x, y): (Vec<f64>, Vec<f64>) =
        rows.iter().filter_map(|&row| Some((*x.data().get(row)?, *y.data().get(row)?))).unzip();
    let line = Line::fit(&x, &y).ok()?;
    let point = |x: f64| {
        let y = y_unit.from_si(line.intercept + line.slope * x);
        (rounding::to_places(x_unit.from_si(x), x_places), rounding::to_places(y, y_places + 1))
    };
    Some([point(*x.first()?), point(*x.last()?)])
}

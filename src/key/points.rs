//! The two points from which a reader checks a fitted line. In: a call of `slope` or `intercept`, values, the decimals of
//! the columns. Out: the line's points at the ends of its range, rounded. They must lie on the line, not on readings.

use crate::{
    formula::{self, Line, Node, NodeKind, Values},
    quantity::{
        Unit,
        rounding::{self, Rounded},
    },
};

/// A column as it is printed: its unit and decimals.
pub(super) type Printed<'a> = (&'a Unit, usize);

/// The points `(x, y)` of the fitted line at the first and last abscissa of its range, the ordinates with one decimal
/// more than the readings; nothing where the call fits no line through two columns.
pub fn line_points<'a>(
    call: &Node,
    values: &dyn Values,
    printed: &dyn Fn(&str) -> Option<Printed<'a>>,
) -> Option<[(Rounded, Rounded); 2]> {
    let NodeKind::Call(_, arguments) = &call.kind else { return None };
    let [y, x, ends @ ..] = arguments.as_slice() else { return None };
    let (NodeKind::Name(y_name), NodeKind::Name(x_name)) = (&y.kind, &x.kind) else { return None };
    let ((y_unit, y_places), (x_unit, x_places)) = (printed(y_name)?, printed(x_name)?);
    let (y, x) = (values.value_of(y_name)?, values.value_of(x_name)?);
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

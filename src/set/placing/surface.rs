//! A number as it follows from several others. In: places from -1 to 1, with values. Out: the value to expect at another place.
//! It must give the same numbers on every machine: plain sums, in one order.

use nalgebra::{DMatrix, DVector};

/// What is added to each sum of squares, so that a direction in which nothing differs does no harm.
const RIDGE: f64 = 1e-6;

/// A parabola in each direction: of the value or, where all values have one sign, of its logarithm, in which products fall apart
/// into sums.
#[derive(Debug, Clone)]
pub(super) struct Surface {
    weights: Vec<f64>,
    /// The sign of the values whose logarithms were fitted.
    sign: Option<f64>,
}

impl Surface {
    /// How many weights a surface over so many directions has.
    pub(super) fn weights(directions: usize) -> usize {
        1 + 2 * directions
    }

    /// The surface nearest to the values, by least squares (normal equations); values that are no numbers count for nothing. Nothing
    /// where there are fewer values than weights.
    pub(super) fn fit(places: &[Vec<f64>], values: &[f64]) -> Option<Self> {
        let found = places.iter().zip(values).filter(|(_, value)| value.is_finite());
        let (rows, values): (Vec<Vec<f64>>, Vec<f64>) =
            found.map(|(place, &value)| (terms(place).collect::<Vec<f64>>(), value)).unzip();
        let count = Self::weights(places.first()?.len());
        if rows.len() < count {
            return None;
        }
        let sign = [-1.0, 1.0].into_iter().find(|sign| values.iter().all(|value| value * sign > 0.0));
        let fitted = |value: f64| sign.map_or(value, |sign| libm::log(sign * value));
        let squares = DMatrix::from_fn(count, count, |one, other| {
            let sum: f64 = rows.iter().map(|row| row[one] * row[other]).sum();
            if one == other { sum + RIDGE } else { sum }
        });
        let products = DVector::from_fn(count, |one, _| {
            rows.iter().zip(&values).map(|(row, &value)| row[one] * fitted(value)).sum::<f64>()
        });
        let weights = squares.cholesky()?.solve(&products);
        Some(Self { weights: weights.iter().copied().collect(), sign })
    }

    /// The value to expect at a place.
    pub(super) fn at(&self, place: &[f64]) -> f64 {
        let sum = self.weights.iter().zip(terms(place)).map(|(weight, term)| weight * term).sum();
        self.sign.map_or(sum, |sign| sign * libm::exp(sum))
    }
}

/// What the weights of a surface belong to; each square less its mean.
fn terms(place: &[f64]) -> impl Iterator<Item = f64> {
    std::iter::once(1.0).chain(place.iter().copied()).chain(place.iter().map(|along| along * along - 1.0 / 3.0))
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Places on a grid of 5 by 5.
    fn grid() -> Vec<Vec<f64>> {
        (0..25).map(|at| vec![f64::from(at % 5) / 2.0 - 1.0, f64::from(at / 5) / 2.0 - 1.0]).collect()
    }

    /// A surface fitted to values on the grid gives them between its places as well.
    fn is_found_again(value: impl Fn(&[f64]) -> f64) {
        let places = grid();
        let values: Vec<f64> = places.iter().map(|place| value(place)).collect();
        let surface = Surface::fit(&places, &values).expect("enough values");
        let place = [0.3, -0.7];
        assert!((surface.at(&place) - value(&place)).abs() < 1e-5, "{}", surface.at(&place));
    }

    #[test]
    fn a_parabola_is_found_again() {
        is_found_again(|place| 0.5 * place[0] - 2.0 * place[1] + 1.5 * place[1] * place[1]);
    }

    #[test]
    fn a_product_is_found_again_with_either_sign() {
        for sign in [-1.0, 1.0] {
            is_found_again(|place| sign * libm::exp(0.4 * place[0]) * libm::exp(0.3 * place[1]));
        }
    }

    #[test]
    fn what_is_no_number_counts_for_nothing_and_too_few_give_nothing() {
        let places = grid();
        let mut values: Vec<f64> = places.iter().map(|place| place[0]).collect();
        values[7] = f64::NAN;
        assert!((Surface::fit(&places, &values).expect("enough values").at(&[0.5, 0.0]) - 0.5).abs() < 1e-5);
        assert!(Surface::fit(&places[..4], &values[..4]).is_none());
    }

    #[test]
    fn a_direction_in_which_nothing_differs_does_no_harm() {
        let places: Vec<Vec<f64>> = grid().into_iter().map(|place| vec![place[0], -1.0]).collect();
        let values: Vec<f64> = places.iter().map(|place| 0.3 - place[0]).collect();
        assert!((Surface::fit(&places, &values).expect("enough values").at(&[0.5, -1.0]) + 0.2).abs() < 1e-5);
    }
}

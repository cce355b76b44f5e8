//! The short way to round: as a whole number of units in the last place. In: a number of a size that schools write in full. Out: the
//! same as by its digits, or nothing where a tie or many digits ask for the long way.

use super::rounding::Rounded;

/// Powers of ten that are exact as doubles, as far as they are needed.
const TENS: [f64; 10] = [1.0, 1e1, 1e2, 1e3, 1e4, 1e5, 1e6, 1e7, 1e8, 1e9];
/// Below this many units the last of 15 digits counts less than a millionth of a unit.
const MOST_UNITS: f64 = 1e9;
/// Nearer to a tie than this share of a unit, the decimal value decides.
const TIE: f64 = 1e-4;

/// Rounds to decimal places, if that is safe.
///
/// The product with the power of ten is off by less than 1e-6 of a unit, so away from ties it is rounded as the decimal value is;
/// the quotient of two whole numbers is the double nearest to the text, as reading the text would give.
pub(super) fn to_places(number: f64, places: usize) -> Option<Rounded> {
    let ten = *TENS.get(places)?;
    let units = number.abs() * ten;
    // What is written with a power of ten goes the long way.
    if units >= MOST_UNITS || number.abs() >= 9e6 || (units.fract() - 0.5).abs() < TIE {
        return None;
    }
    let whole = units.round();
    if whole == 0.0 || (number.abs() < 2e-4 && places > 3) {
        return None;
    }
    let value = whole / ten;
    let digits = (whole as u64).to_string();
    let mut text = String::with_capacity(digits.len() + 3);
    if number < 0.0 {
        text.push('-');
    }
    let before = digits.len().saturating_sub(places);
    text.push_str(if before == 0 { "0" } else { &digits[..before] });
    if places > 0 {
        text.push('.');
        text.extend(std::iter::repeat_n('0', places.saturating_sub(digits.len())));
        text.push_str(&digits[before..]);
    }
    Some(Rounded { value: if number < 0.0 { -value } else { value }, text })
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;
    use crate::quantity::rounding;

    proptest! {
        #[test]
        fn the_short_way_ends_where_the_long_one_does(number in -1e5..1e5f64, tenth in -1_000_000i64..1_000_000, places in 0usize..7) {
            // Any numbers, and such as have few decimals, with a binary neighbour of theirs.
            let near = tenth as f64 / 100.0;
            for number in [number, number / 1e4, near, near.next_up(), near * 0.1] {
                if let Some(short) = to_places(number, places) {
                    prop_assert_eq!(short, rounding::by_digits(number, places), "{} to {}", number, places);
                }
            }
        }
    }

    #[test]
    fn ties_and_long_numbers_go_the_long_way() {
        for (number, places) in [(0.125, 2), (12.35, 1), (1e12, 2), (1.0, 12), (0.000_05, 5), (0.0, 1)] {
            assert_eq!(to_places(number, places), None, "{number} to {places}");
        }
        assert!(to_places(-3.7, 0).is_some_and(|rounded| rounded.text == "-4"));
    }
}
